// What happened, kept on this phone until the server has it. Sent in order, again and again until it is taken.

const MOST = 500;
const FIRST_WAIT_MS = 1000;
const CLOSE_MS = 30_000; // a page takes a while to arrive
const LONGEST_WAIT_MS = 60_000;
// What an answer says of the way, not of what was sent: asked again as it is.
const AGAIN = new Set([401, 403, 404, 408, 425, 429]);

export function uuid() {
  if (crypto.randomUUID) return crypto.randomUUID(); // on https and localhost alone
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

export class Queue {
  #memory = [];
  #wait = FIRST_WAIT_MS;
  #timer = null;
  #busy = false;
  #again = false;
  #last = 0;
  #most = MOST;

  constructor({ session, url, token, since, now, changed, arrived, refused }) {
    Object.assign(this, { key: `bibrack.pitch.${session}`, url, token, since, changed, arrived, refused });
    this.ahead = Math.abs(Date.now() - now) < CLOSE_MS ? 0 : Date.now() - now;
    this.keeps = true;
    this.signedOut = false;
    this.device = this.#device();
    addEventListener("online", () => { this.#wait = FIRST_WAIT_MS; this.send(); });
    addEventListener("storage", (event) => { if (event.key === this.key) this.changed(); });
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.send(); });
  }

  // Read anew each time: another tab of this phone may have written.
  get waiting() {
    if (!this.keeps) return this.#memory;
    return JSON.parse(localStorage.getItem(this.key) ?? "[]");
  }

  // One after another, also within one millisecond: the order in which things happened is told by their times.
  #after(ms) {
    if (ms <= this.#last && this.#last - ms < 1000) ms = this.#last + 1;
    this.#last = ms;
    return ms;
  }

  add(kind, body = {}, ms = this.#after(Date.now())) {
    const event = { id: uuid(), kind, at: new Date(ms).toISOString(), ...body };
    this.#write([...this.waiting, event]);
    this.changed();
    this.send();
    return event;
  }

  async send() {
    this.#again = this.#busy;
    if (this.#busy) return;
    this.#busy = true;
    clearTimeout(this.#timer);
    const batch = this.waiting.slice(0, this.#most);
    let sent = false;
    try {
      this.#settle(batch, await this.#post(batch));
      this.#wait = FIRST_WAIT_MS;
      this.#most = MOST;
      sent = true;
    } catch (trouble) {
      sent = trouble.unread && this.#smaller(batch);
      if (!sent) this.#later();
    } finally {
      this.#busy = false;
    }
    this.changed();
    // What came meanwhile goes at once; after a failure only if something asked for it since.
    if (this.waiting.length && (sent || this.#again)) this.send();
  }

  async #post(events) {
    const response = await fetch(this.url, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": this.token() },
      body: JSON.stringify({ events, device: this.device, now: new Date().toISOString(), since: this.since }),
    });
    this.signedOut = response.redirected || [401, 403].includes(response.status);
    if (!response.ok || this.signedOut) {
      const unread = response.status >= 400 && response.status < 500 && !AGAIN.has(response.status);
      throw Object.assign(new Error(`events: ${response.status}`), { unread });
    }
    return response.json();
  }

  // Nobody could read this batch: half of it at once, and what can't be read alone is set aside, so that the rest gets through.
  #smaller(batch) {
    if (batch.length > 1) {
      this.#most = Math.ceil(batch.length / 2);
      return true;
    }
    if (!batch.length) return false;
    this.#write(this.waiting.filter((event) => event.id !== batch[0].id));
    this.refused({ id: batch[0].id, outcome: "refused", text: "" });
    this.#most = MOST;
    return true;
  }

  #settle(batch, answer) {
    const done = new Set(batch.map((event) => event.id));
    this.#write(this.waiting.filter((event) => !done.has(event.id)));
    this.since = answer.last_seq;
    this.ahead = Date.now() - answer.now;
    for (const each of answer.results) {
      if (each.outcome === "refused" || each.outcome === "conflict") this.refused(each);
    }
    this.arrived((answer.events ?? []).map((event) => this.here(event)));
  }

  // An event as the server tells it, by this phone's own clock, which may be wrong.
  here(event) {
    return { ...event, ms: event.ms + this.ahead };
  }

  #later() {
    this.#wait = Math.min(this.#wait * 2, LONGEST_WAIT_MS);
    if (this.waiting.length) this.#timer = setTimeout(() => this.send(), this.#wait);
  }

  #write(events) {
    this.#memory = events;
    if (!this.keeps) return;
    try {
      localStorage.setItem(this.key, JSON.stringify(events));
    } catch {
      this.keeps = false;
    }
  }

  #device() {
    try {
      const known = localStorage.getItem("bibrack.device") ?? uuid().slice(0, 8);
      localStorage.setItem("bibrack.device", known);
      return known;
    } catch {
      this.keeps = false;
      return uuid().slice(0, 8);
    }
  }
}
