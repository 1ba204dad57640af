// Numbers changed: what works with who came, from the server; without signal, or with a slow one, from what was taken along.

import { insteadSaid, nearest, sourceOf } from "./answers.js";

const TYPED_MS = 350;
const SLOW_MS = 3000;

export class NumbersView {
  constructor({ root, data, words, fill, token, accept, turnOut, along, changed }) {
    Object.assign(this, { root, data, words, fill, token, accept, turnOut, along, changed });
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
    this.state = state;
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
    const html = this.#swap ? null : await this.#sent(`${this.root.dataset.fit}?${new URLSearchParams(this.#typed())}`);
    const taken = html === null ? await this.along().catch(() => null) : null;
    if (turn !== this.asked) return; // an older question than what is typed now
    this.answers.removeAttribute("aria-busy");
    if (html === null) this.#near(taken);
    else this.answers.innerHTML = html;
  }

  get #swap() {
    return this.state?.parts.get(this.part.key).swap ?? null;
  }

  // Null without signal, or with one that is too slow to wait for.
  async #sent(url, init = {}) {
    try {
      const response = await fetch(url, { ...init, signal: AbortSignal.timeout(SLOW_MS) });
      return response.ok && !response.redirected ? await response.text() : null;
    } catch {
      return null;
    }
  }

  #typed() {
    return { ...Object.fromEntries(new FormData(this.form)), part: this.part.key, rung: this.rung };
  }

  #near(taken) {
    const players = Number.parseInt(this.form.elements.players.value, 10);
    const found = nearest(taken, taken && sourceOf(taken, this.part.key, this.#swap), players);
    const line = (tag, textContent, more = {}) => Object.assign(document.createElement(tag), { textContent, ...more });
    const told = [...(this.#swap ? [] : [this.words.no_signal]), ...this.#otherwise(), ...found.why];
    if (found.players !== players) told.push(insteadSaid(found, players, this.words, this.fill));
    const problems = document.createElement("ul");
    problems.className = "problems";
    problems.append(...told.map((text) => line("li", text)));
    this.answers.replaceChildren(...(told.length ? [problems] : []));
    const { answer } = found;
    if (!answer) return;
    const box = Object.assign(document.createElement("article"), { className: "answer" });
    const button = line("button", this.words.play_this, { type: "button", className: "go wide" });
    button.dataset.setup = JSON.stringify(answer.setup);
    button.dataset.rung = answer.rung; // it was worked out for the planned one
    const list = document.createElement("ul");
    if (answer.more) list.append(Object.assign(document.createElement("li"), { innerHTML: "<b></b>" }));
    if (answer.more) list.querySelector("b").textContent = answer.more;
    list.append(...[...answer.why, answer.rotation].filter(Boolean).map((text) => line("li", text)));
    const picture = Object.assign(document.createElement("div"), { className: "pic", innerHTML: (taken.html[answer.plan] ?? "").replaceAll("along-", "near-") });
    box.append(line("h3", answer.title), button, list, picture);
    this.answers.append(box);
  }

  // What was typed and is not counted with here.
  #otherwise() {
    const fields = this.form.elements;
    const other = ["keepers", "adults", "length", "width"].some((name) => fields.namedItem(name).value !== (this.part.starts[name] ?? ""));
    return other ? [this.words.near_as_planned] : [];
  }

  async #take(button) {
    button.disabled = true;
    const setup = JSON.parse(button.dataset.setup);
    const rung = button.dataset.rung ?? this.rung;
    const picture = button.closest(".answer")?.querySelector(".pic svg");
    const body = new URLSearchParams({ ...this.#typed(), rung, players: setup.players_total, numbers: setup.numbers, grids: setup.grids });
    const html = this.#swap ? null : await this.#sent(this.root.dataset.setup, { method: "POST", body, headers: { "X-CSRFToken": this.token() } });
    const page = html === null ? null : new DOMParser().parseFromString(html, "text/html");
    this.accept(this.part, rung, setup, page ?? picture, headline(setup));
  }
}

function headline(setup) {
  return `${setup.numbers} · ${setup.length_m} × ${setup.width_m} m`;
}
