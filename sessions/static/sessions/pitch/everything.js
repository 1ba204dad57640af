// Everything set up for who is here, offered where the register has another number than the parts are set up for, or where
// a set-up is not one for tonight any more; why, is said at each part.

export class EverythingView {
  constructor({ root, data, words, fill, token, redraw, turnOut }) {
    Object.assign(this, { root, data, words, fill, token, redraw, turnOut });
    this.box = document.getElementById("everything");
    this.button = document.getElementById("set-up-all");
    this.became = document.getElementById("became");
    this.button.addEventListener("click", () => this.#ask());
  }

  draw(state) {
    this.state = state;
    this.players = this.turnOut.players;
    let waits = false;
    for (const part of this.data.parts) {
      const own = state.parts.get(part.key);
      const why = this.#stale(part, own);
      this.#show(part, why);
      waits ||= why.length > 0 || (this.turnOut.isSaid && this.#differs(part, own));
    }
    this.button.hidden = !waits;
    this.box.hidden = !waits && !this.became.childElementCount;
    this.button.textContent = this.fill(this.words.all_up, { n: this.players });
  }

  // Somebody accepted a set-up for it on this phone: whatever was said of the one before is over.
  accepted(part) {
    part.stale = part.beside_numbers = [];
    part.taken = true;
  }

  // The one offer stands where the number is: below the names, or below the stepper.
  stand(view) {
    if (view === "numbers") document.getElementById("answers").before(this.box);
    if (view === "register") document.getElementById("begin").before(this.box);
  }

  // Of several stations at the same time the page knows how many they are for together; of one, the last answer counts.
  #now(part, own) {
    return part.stations === 1 && own.setup ? own.setup.players_total : part.set_for;
  }

  #differs(part, own) {
    return part.stations > 0 && own.started === null && this.#now(part, own) !== this.players;
  }

  // Why its set-up is not one for tonight: as the server said it, while the number is the one that it counted.
  #stale(part, own) {
    const now = this.#now(part, own);
    if (own.started !== null || now === null) return [];
    if (this.players === this.data.tonight && !part.taken) return part.stale;
    if (now === this.players) return part.beside_numbers;
    const words = this.players === 1 ? this.words.stale_one : this.words.stale_many;
    return [this.fill(words, { then: now, now: this.players }), ...part.beside_numbers];
  }

  #show(part, why) {
    const list = document.querySelector(`[data-part="${CSS.escape(part.key)}"] .stale`);
    list.hidden = why.length === 0;
    if ([...list.children].map((each) => each.textContent).join("\n") === why.join("\n")) return;
    list.replaceChildren(...why.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
  }

  async #ask() {
    const { players } = this;
    this.button.disabled = true;
    try {
      const body = new URLSearchParams({ players });
      const response = await fetch(this.root.dataset.setUpAll, { method: "POST", body, headers: { "X-CSRFToken": this.token() } });
      if (response.redirected) throw new Error("signed out");
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      if (response.ok) this.#take(page, players);
      this.became.replaceChildren(...page.body.children);
    } catch {
      this.became.replaceChildren(Object.assign(document.createElement("p"), { textContent: this.words.all_later }));
    }
    this.box.hidden = false; // what became of it is read, though nothing waits any more
    this.button.disabled = false;
  }

  #take(page, players) {
    const standing = JSON.parse(page.querySelector("[data-standing]").dataset.standing);
    for (const part of this.data.parts) Object.assign(part, standing[part.key], { taken: false });
    this.data.tonight = players;
    for (const each of page.querySelectorAll("[data-redrawn]")) {
      const part = this.data.parts.find((one) => one.key === each.dataset.redrawn);
      this.redraw(part, JSON.parse(each.dataset.event), each.content);
      each.remove();
    }
    this.draw(this.state);
  }
}
