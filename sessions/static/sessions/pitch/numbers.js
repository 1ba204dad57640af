// Numbers changed: what works with who came, from the server; without signal, the nearest that was sent along.

const TYPED_MS = 350;

export class NumbersView {
  constructor({ root, data, words, fill, token, accept, turnOut, changed }) {
    Object.assign(this, { root, data, words, fill, token, accept, turnOut, changed });
    this.form = document.getElementById("turn-out");
    this.answers = document.getElementById("answers");
    this.asked = 0;
    this.typed = new Set();
    this.form.addEventListener("input", (event) => {
      this.typed.add(event.target.name);
      if (event.target.name === "players") this.#say(Number.parseInt(event.target.value, 10));
      clearTimeout(this.timer);
      this.timer = setTimeout(() => this.ask(), TYPED_MS);
    });
    this.form.addEventListener("submit", (event) => { event.preventDefault(); this.ask(); });
    for (const button of this.form.querySelectorAll("[data-by]")) {
      button.addEventListener("click", () => {
        this.#say(Math.min(60, Math.max(1, this.turnOut.players + Number(button.dataset.by))));
        this.form.elements.players.value = this.turnOut.players;
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.ask(), TYPED_MS);
      });
    }
    this.answers.addEventListener("click", (event) => {
      const button = event.target.closest("button[data-setup]");  // the page has the address in one of its own
      if (button) this.#take(button);
    });
  }

  #say(players) {
    if (!(players > 0)) return;
    this.turnOut.say(players);
    this.changed();
  }

  // Whose number it is: the register's, or the thumb's.
  draw(state) {
    const { here, typed, expected, byHeads } = this.turnOut;
    const players = here || expected;
    const counted = this.fill(byHeads ? this.words.by_heads : here ? this.words.by_register : this.words.by_plan, { n: players });
    const { size } = state.trialists;
    const trialists = size ? ` ${this.fill(size === 1 ? this.words.with_trialist : this.words.with_trialists, { n: size })}` : "";
    document.getElementById("by-register").textContent = typed === null ? counted + trialists : `${this.fill(this.words.you_say, { n: typed })} ${counted}${trialists}`;
    const field = this.form.elements.players;
    if (this.part && document.activeElement !== field) field.value = this.turnOut.players;
  }

  open(part, rung) {
    Object.assign(this, { part, rung });
    const fields = this.form.elements;
    fields.players.value = this.turnOut.players;
    // What was typed for one part holds for the next ones; what nobody typed begins as the part has it.
    for (const [name, meaning] of [["keepers"], ["adults", "adults_help"], ["length", "ground_help"], ["width", "ground_help"]]) {
      const field = fields.namedItem(name);
      if (!this.typed.has(name)) field.value = part.starts[name] ?? "";
      if (meaning) field.nextElementSibling.textContent = part.starts[meaning] ?? ""; // of an empty field
    }
    return this.ask();
  }

  async ask() {
    const turn = (this.asked += 1);
    this.answers.setAttribute("aria-busy", "true");
    let html = null;
    try {
      const response = await fetch(`${this.root.dataset.fit}?${new URLSearchParams(this.#typed())}`);
      if (response.ok && !response.redirected) html = await response.text();
    } catch {
      // No signal: the page has something in hand.
    }
    if (turn !== this.asked) return; // an older question than what is typed now
    this.answers.removeAttribute("aria-busy");
    if (html === null) this.#near();
    else this.answers.innerHTML = html;
  }

  #typed() {
    return { ...Object.fromEntries(new FormData(this.form)), part: this.part.key, rung: this.rung };
  }

  #near() {
    const players = Number.parseInt(this.form.elements.players.value, 10);
    const near = this.part.near[players];
    const words = document.createElement("p");
    words.className = "problems";
    words.textContent = near ? this.words.no_signal : this.fill(this.words.none_near, { n: players || "?" });
    this.answers.replaceChildren(words);
    if (!near) return;
    const title = document.createElement("h3");
    title.textContent = headline(near);
    const why = document.createElement("p");
    why.textContent = near.why;
    const button = document.createElement("button");
    Object.assign(button, { type: "button", className: "go wide", textContent: this.words.play_this });
    const { why: _, more, ...setup } = near;
    button.dataset.setup = JSON.stringify(setup);
    button.dataset.rung = this.part.rungs[this.part.rung]?.key ?? ""; // it was worked out for the planned one
    this.answers.append(title, button, why);
    if (more) this.answers.append(Object.assign(document.createElement("b"), { textContent: more }));
  }

  async #take(button) {
    button.disabled = true;
    const setup = JSON.parse(button.dataset.setup);
    const picture = button.closest(".answer")?.querySelector(".pic svg");
    const body = new URLSearchParams({ ...this.#typed(), numbers: setup.numbers, grids: setup.grids });
    let page = null;
    try {
      const response = await fetch(this.root.dataset.setup, { method: "POST", body, headers: { "X-CSRFToken": this.token() } });
      if (response.ok && !response.redirected) page = new DOMParser().parseFromString(await response.text(), "text/html");
    } catch {
      // Kept as an event all the same, with the picture that is here.
    }
    this.accept(this.part, button.dataset.rung ?? this.rung, setup, picture, page, headline(setup));
  }
}

function headline(setup) {
  return `${setup.numbers} · ${setup.length_m} × ${setup.width_m} m`;
}
