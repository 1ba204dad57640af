// The page at the pitch keeps itself on this phone, and says under "More" whether it could.

import { belongsTo, keep, tidy } from "./bundles.js";
import { record, takeAnswers } from "./take.js";
import { sendWaiting } from "./waiting.js";

export class Saved {
  // `of` is what the page says of itself; `page` its text as it was served, or null for a saved copy.
  constructor({ of, page, words }) {
    Object.assign(this, { of, page, words });
  }

  async start() {
    const opens = await this.#worker();
    if (this.page !== null) await this.#keep(opens);
    // Of other sessions, and of other evenings: while this page is open anyway.
    tidy().catch(() => {});
    sendWaiting(this.of.phone, { but: this.of.session }).catch(() => {});
  }

  async #keep(opens) {
    try {
      await belongsTo(this.of.account);
      await keep({ ...record(this.of), page: this.page, along: null });
      await takeAnswers(this.of, this.page);
      await navigator.storage?.persist?.();
      this.#say(opens ? "saved" : "saved_no_https");
    } catch (trouble) {
      this.#say(trouble.why ? "saved_in_part" : "not_saved_full");
    }
  }

  // Browsers let a page open without signal on https and on this machine alone.
  async #worker() {
    try {
      await navigator.serviceWorker.register(this.of.worker, { type: "module", scope: "/" });
      return true;
    } catch {
      return false;
    }
  }

  #say(name) {
    document.getElementById("saved-said").textContent = this.words[name];
    document.getElementById("pitch").dataset.kept = name;
  }
}
