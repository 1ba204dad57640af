// The page at the pitch keeps itself on this phone, and says under "More" whether it could.

import { belongsTo, bundle, keep, tidy } from "./bundles.js";
import { answers, record } from "./take.js";
import { stands } from "./standing.js";
import { sendWaiting } from "./waiting.js";

export class Saved {
  #answers = null;
  #tag = null;

  // `of` is what the page says of itself; `page` its text as it was served, or null for a saved copy.
  constructor({ of, page, words }) {
    Object.assign(this, { of, page, words });
  }

  async start() {
    const opens = stands(this.of.worker);
    if (this.page !== null) await this.#keep(opens);
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

  async #keep(opens) {
    try {
      await belongsTo(this.of.account);
      const before = await bundle(this.of.account, this.of.session);
      await keep({ ...record(this.of), page: this.page, along: before?.along ?? null, tag: before?.tag ?? null });
      const along = await this.along();
      await keep({ ...record(this.of), page: this.page, along, tag: this.#tag });
      await navigator.storage?.persist?.();
      this.#say((await opens) ? "saved" : "saved_no_https");
    } catch (trouble) {
      this.#say(trouble.why ? "saved_in_part" : "not_saved_full");
    }
  }

  #say(name) {
    document.getElementById("saved-said").textContent = this.words[name];
    document.getElementById("pitch").dataset.kept = name;
  }
}
