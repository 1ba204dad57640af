// Everything set up for who is here, offered where the register has another number than the parts are set up for.

export class EverythingView {
  constructor({ root, data, words, fill, token, redraw, turnOut }) {
    Object.assign(this, { root, data, words, fill, token, redraw, turnOut });
    this.box = document.getElementById("everything");
    this.button = document.getElementById("set-up-all");
    this.became = document.getElementById("became");
    this.button.addEventListener("click", () => this.#ask());
  }

  draw(state) {
    this.players = this.turnOut.players;
    const waits = this.turnOut.isSaid && this.data.parts.some((part) => this.#differs(part, state.parts.get(part.key)));
    this.button.hidden = !waits;
    this.box.hidden = !waits && !this.became.childElementCount;
    this.button.textContent = this.fill(this.words.all_up, { n: this.players });
  }

  // The one offer stands where the number is: below the names, or below the stepper.
  stand(view) {
    if (view === "numbers") document.getElementById("answers").before(this.box);
    if (view === "register") document.getElementById("begin").before(this.box);
  }

  // Of several stations at the same time the page knows how many they are for together; of one, the last answer counts.
  #differs(part, own) {
    if (!part.stations || own.started !== null) return false;
    const now = part.stations === 1 && own.setup ? own.setup.players_total : part.set_for;
    return now !== this.players;
  }

  async #ask() {
    const { players } = this;
    this.button.disabled = true;
    try {
      const body = new URLSearchParams({ players });
      const response = await fetch(this.root.dataset.setUpAll, { method: "POST", body, headers: { "X-CSRFToken": this.token() } });
      if (response.redirected) throw new Error("signed out");
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      if (response.ok) this.#take(page);
      this.became.replaceChildren(...page.body.children);
    } catch {
      this.became.replaceChildren(Object.assign(document.createElement("p"), { textContent: this.words.all_later }));
    }
    this.box.hidden = false; // what became of it is read, though nothing waits any more
    this.button.disabled = false;
  }

  #take(page) {
    const setFor = JSON.parse(page.querySelector("[data-set-for]").dataset.setFor);
    for (const part of this.data.parts) part.set_for = setFor[part.key] ?? null;
    for (const each of page.querySelectorAll("[data-redrawn]")) {
      const part = this.data.parts.find((one) => one.key === each.dataset.redrawn);
      this.redraw(part, JSON.parse(each.dataset.event), each.content);
      each.remove();
    }
  }
}
