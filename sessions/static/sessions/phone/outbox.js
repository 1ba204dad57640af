// What happened in one session, kept on this phone until the server has it. Sent in order, again and again until it is taken.

import { Trouble, deliver, inTurn, post, whoIsThere } from "./send.js";
import { CHANNEL, FORM, aheadOf, asSent, inOrder, keepSettled, seenName, sorted } from "./settled.js";
import { between, device, known, remember, rows, uuid, write } from "./store.js";

const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 60_000;

export class Outbox {
  #wait = FIRST_WAIT_MS;
  #timer = null;
  #busy = false;
  #again = false;
  #last = 0;
  #rows = new Map(); // id → row: in memory too, for a phone that keeps nothing
  #unwritten = new Set();
  #saving = null;
  #channel = null;

  // `token` is the page's own; a saved copy has none, and asks who is signed in.
  constructor({ session, account, url, phone, token, since, ahead, changed, arrived, refused }) {
    Object.assign(this, { session, account, url, phone, since, ahead, changed, arrived, refused });
    this.who = token ? { account, token } : null;
    this.keeps = true;
    this.trouble = ""; // why the last sending did not get through
    this.device = uuid().slice(0, 8);
  }

  // What waits from before. The events of a fresh page are the log from now on; a saved copy adds the log. Returns what happened.
  async open(events, isSaved) {
    const found = await this.#kept(() => this.#read(events, isSaved));
    if ("BroadcastChannel" in globalThis) {
      this.#channel = new BroadcastChannel(CHANNEL);
      this.#channel.onmessage = ({ data }) => this.#elsewhere(data);
    }
    addEventListener("online", () => { this.#wait = FIRST_WAIT_MS; this.send(); });
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.send(); });
    return (found ?? events).map((event) => this.here(event));
  }

  async #read(events, isSaved) {
    this.device = await device();
    for (const row of await rows("outbox", this.account, this.session)) this.#rows.set(row.id, row);
    if (isSaved) return this.#logged(events);
    await write(["log"], (log) => {
      log.delete(between(this.account, this.session));
      for (const event of events) log.put({ account: this.account, session: this.session, id: event.id, event });
    });
    await remember(seenName(this.account, this.session), { since: this.since, ahead: this.ahead });
    return events;
  }

  // What waits, on a disk that was cleared.
  writeAgain() {
    for (const id of this.#rows.keys()) this.#unwritten.add(id);
    this.#save();
  }

  async #logged(events) {
    const seen = await known(seenName(this.account, this.session));
    if (!seen) return events;
    if (seen.since >= this.since) Object.assign(this, seen);
    const found = new Map(events.map((event) => [event.id, event]));
    for (const { id, event } of await rows("log", this.account, this.session)) found.set(id, event);
    return [...found.values()];
  }

  // What waits for the server.
  get waiting() {
    return inOrder([...this.#rows.values()]);
  }

  // What the server did not take, until it was read.
  get aside() {
    return [...this.#rows.values()].filter((row) => row.refused !== undefined).sort((a, b) => Date.parse(a.event.at) - Date.parse(b.event.at));
  }

  // An event as the server tells it, by this phone's own clock, which may be wrong.
  here(event) {
    return { ...event, ms: event.ms + this.ahead };
  }

  add(kind, body = {}, ms = this.#after(Date.now())) {
    const event = { id: uuid(), kind, at: new Date(ms).toISOString(), ...body };
    const row = { account: this.account, session: this.session, id: event.id, v: FORM, url: this.url, event };
    this.#rows.set(event.id, row);
    this.#unwritten.add(event.id);
    this.#save();
    this.#channel?.postMessage({ what: "added", session: this.session, account: this.account, row });
    this.changed();
    this.send();
    return event;
  }

  // One after another, also within one millisecond: the order in which things happened is told by their times.
  #after(ms) {
    if (ms <= this.#last && this.#last - ms < 1000) ms = this.#last + 1;
    this.#last = ms;
    return ms;
  }

  async send() {
    this.#again = this.#busy;
    if (this.#busy) return;
    this.#busy = true;
    clearTimeout(this.#timer);
    let sent = false;
    try {
      await inTurn(() => this.#deliver());
      this.trouble = "";
      this.#wait = FIRST_WAIT_MS;
      sent = true;
    } catch (trouble) {
      if (!trouble.why) reportError(trouble); // ours, not the way's
      this.trouble = trouble.why ?? "signal";
      this.#later();
    } finally {
      this.#busy = false;
    }
    this.changed();
    // What came meanwhile goes at once; after a failure only if something asked for it since.
    if (this.waiting.length && (sent || this.#again)) this.send();
  }

  async #deliver() {
    await this.#signedIn();
    await deliver(this.waiting, {
      give: (events) => this.#give(events),
      taken: (batch, answer) => this.#settle(batch, answer),
    });
  }

  // Nobody else's account sends what this one recorded.
  async #signedIn() {
    this.who ??= await whoIsThere(this.phone);
    if (this.who?.account === this.account) return;
    const why = this.who ? "another" : "signed-out";
    this.who = null;
    throw new Trouble(why);
  }

  async #give(events, again = true) {
    const { device: own, since, ahead } = this;
    try {
      return await post(this.url, this.who.token, { events: asSent(events, ahead), device: own, since });
    } catch (trouble) {
      if (trouble.why !== "signed-out") throw trouble;
      if (!again) throw new Trouble("gone"); // signed in, and not allowed: not a matter of the token
      this.who = null; // the token may only be too old
      await this.#signedIn();
      return this.#give(events, false);
    }
  }

  async #settle(batch, answer) {
    const found = sorted(this, batch, answer, this.ahead);
    await this.#kept(() => keepSettled(this, batch, found, answer, this.ahead));
    const { session, account } = this;
    if (batch.length || answer.events?.length) this.#channel?.postMessage({ what: "settled", session, account, batch, answer });
    this.#told(batch, found.aside, answer);
  }

  #told(batch, aside, answer) {
    for (const event of batch) this.#rows.delete(event.id);
    for (const row of aside) this.#rows.set(row.id, row);
    if (answer.now !== undefined) Object.assign(this, { since: answer.last_seq, ahead: aheadOf(answer.now, this.ahead) });
    if (aside.length) this.refused(aside);
    this.arrived((answer.events ?? []).map((event) => this.here(event)), answer);
  }

  // Another tab of this phone, or the browser itself, which has written it already.
  #elsewhere({ what, session, account, row, batch, answer }) {
    if (session !== this.session || account !== this.account) return;
    if (what === "settled") this.#told(batch, sorted(this, batch, answer, this.ahead).aside, answer);
    if (what === "added") {
      this.#rows.set(row.id, row);
      this.arrived([{ device: this.device, ...row.event, ms: Date.parse(row.event.at) }], {});
    }
    this.changed();
  }

  // It was read that these were not taken; or, of a session that is gone, all of them.
  async forget(ids) {
    for (const id of ids) this.#rows.delete(id);
    await this.#kept(() => write(["outbox"], (outbox) => { for (const id of ids) outbox.delete([this.account, this.session, id]); }));
    this.changed();
  }

  #later() {
    this.#wait = Math.min(this.#wait * 2, LONGEST_WAIT_MS);
    if (!this.waiting.length) return;
    if (this.trouble !== "gone") this.#timer = setTimeout(() => this.send(), this.#wait);
    wakeMe();
  }

  // Everything that isn't on the disk yet, also what a full disk refused before. One writing at a time: what is tapped
  // meanwhile goes together with the next one.
  #save() {
    this.#saving ??= this.#kept(() => this.#saved()).finally(() => { this.#saving = null; });
    return this.#saving;
  }

  async #saved() {
    while (this.#unwritten.size) {
      const ids = [...this.#unwritten];
      await write(["outbox"], (outbox) => { for (const id of ids) if (this.#rows.has(id)) outbox.put(this.#rows.get(id)); });
      for (const id of ids) this.#unwritten.delete(id);
    }
  }

  // A phone that keeps nothing goes on from memory, and says so.
  async #kept(act) {
    const before = this.keeps;
    try {
      const found = await act();
      this.keeps = true;
      return found;
    } catch {
      this.keeps = false;
      return null;
    } finally {
      if (before !== this.keeps) this.changed();
    }
  }
}

// Where the browser can, it sends by itself once there is signal, though the page is closed; else when one is opened again.
async function wakeMe() {
  const registration = await navigator.serviceWorker?.getRegistration().catch(() => null);
  await registration?.sync?.register(CHANNEL).catch(() => null);
}
