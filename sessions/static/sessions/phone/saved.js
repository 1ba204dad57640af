// The page at the pitch keeps itself on this phone, and says under "More" whether it could.

import { belongsTo, bundle, keep, tidy } from "./bundles.js";
import { seenName } from "./settled.js";
import { stands } from "./standing.js";
import { heeds, known, remember, write } from "./store.js";
import { answers, record, take } from "./take.js";
import { sendWaiting } from "./waiting.js";

const AGAIN_MS = 250;
const TRIES = 20;

// A browser that is clearing refuses for a moment.
async function answersAgain() {
  for (let left = TRIES; left; left -= 1) {
    try {
      return await known("device");
    } catch {
      await new Promise((resolve) => { setTimeout(resolve, AGAIN_MS); });
    }
  }
  return null; // saving says so
}

export class Saved {
  #answers = null;
  #tag = null;
  #saving = Promise.resolve();
  #root = document.getElementById("pitch");
  #said = document.getElementById("saved-said");

  // `of` is what the page says of itself; `page` its text as it was served, or null for a saved copy; `ahead` how far this
  // phone's clock was ahead of the server's when it came, in milliseconds; `queue` what is sent, `happened` all that is known.
  constructor({ of, page, words, ahead, queue, happened }) {
    Object.assign(this, { of, page, words, ahead, queue, happened });
  }

  async start() {
    const notYet = this.#said.textContent;
    heeds.cleared = async () => {
      this.#say("", notYet);
      await answersAgain();
      this.queue.writeAgain();
      this.#logAgain().catch(() => {}); // what is said of it, saving says
      this.#save();
    };
    addEventListener("online", () => { if (this.#root.dataset.kept !== "saved") this.#save(); });
    await this.#save();
    // Of other sessions, and of other evenings: while this page is open anyway.
    tidy().catch(() => {});
    sendWaiting(this.of.phone, { but: this.of.session }).catch(() => {});
  }

  // What is worked with when there is no signal: from the server, or as it was saved. Null for a page that has none.
  along() {
    this.#answers ??= this.#found().catch((trouble) => { this.#answers = null; throw trouble; });
    return this.#answers;
  }

  async #found() {
    const copy = await bundle(this.of.account, this.of.session).catch(() => null);
    try {
      const found = await answers(this.of, copy);
      this.#tag = found.tag;
      return found.along;
    } catch (trouble) {
      if (copy?.along) return copy.along;
      throw trouble;
    }
  }

  // What the server had taken: no page as it was served knows of it.
  async #logAgain() {
    const { account, session, since, ahead, device, waiting } = this.queue;
    const waits = new Set(waiting.map((event) => event.id));
    await remember("device", device);
    await write(["log"], (log) => {
      for (const { at, ...event } of this.happened()) {
        if (!waits.has(event.id)) log.put({ account, session, id: event.id, event: { ...event, ms: event.ms - ahead } });
      }
    });
    await remember(seenName(account, session), { since, ahead });
  }

  // One after another: a phone that is cleared twice is saved again twice.
  #save() {
    const save = this.page === null ? () => this.#look() : () => this.#keep();
    this.#saving = this.#saving.then(save);
    return this.#saving;
  }

  // A saved copy is here, unless the browser has cleared it: then it takes signal to have it again.
  async #look() {
    try {
      const { account, session, url } = this.of;
      if (!(await bundle(account, session))) await take(url);
      const copy = await bundle(account, session);
      this.#say(copy.along || !this.of.along ? await this.#opens() : "saved_in_part");
    } catch (trouble) {
      this.#say(trouble.why ? "cleared" : "not_saved_full");
    }
  }

  async #opens() {
    if (await stands(this.of.worker)) return "saved";
    return isSecureContext ? "not_opening" : "saved_no_https";
  }

  async #keep() {
    try {
      const opens = this.#opens();
      await belongsTo(this.of.account);
      const before = await bundle(this.of.account, this.of.session);
      const own = { ...record(this.of), ahead: this.ahead, page: this.page };
      await keep({ ...own, along: before?.along ?? null, tag: before?.tag ?? null });
      const along = await this.along();
      await keep({ ...own, along, tag: this.#tag });
      await navigator.storage?.persist?.();
      this.#say(await opens);
    } catch (trouble) {
      this.#say(trouble.why ? "saved_in_part" : "not_saved_full");
    }
  }

  #say(name, text = this.words[name]) {
    this.#said.textContent = text;
    this.#root.dataset.kept = name;
  }
}
