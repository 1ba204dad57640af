// Heads are counted where the register would stand: a number without names. Each tap is a count, and the last one stands.

export class Heads {
  constructor({ data, words, fill, add, turnOut }) {
    Object.assign(this, { data, words, fill, add, turnOut, said: null });
    this.section = document.getElementById("register");
    this.right = document.getElementById("heads-right");
    for (const button of this.section.querySelectorAll("[data-heads]")) {
      button.addEventListener("click", () => this.#count(this.#shown() + Number(button.dataset.heads)));
    }
    this.right.addEventListener("click", () => this.#count(this.#shown()));
  }

  draw(state) {
    this.said = state.heads;
    const n = this.#shown();
    const values = { n };
    document.getElementById("heads").textContent = n;
    document.getElementById("came").textContent = this.said ?? "";
    this.right.hidden = this.said !== null;
    this.right.textContent = this.fill(this.words.heads_right, values);
    document.getElementById("counted").textContent = this.#words(values);
    for (const button of this.section.querySelectorAll("[data-heads]")) button.disabled = n + Number(button.dataset.heads) !== this.#within(n + Number(button.dataset.heads));
  }

  #words(values) {
    const { by_register: register } = this.data;
    if (register) return this.fill(this.words.heads_register, { n: register });
    return this.fill(this.said === null ? this.words.heads_expected : this.words.heads_counted, values);
  }

  #shown() {
    return this.said ?? this.#within(this.turnOut.players);
  }

  #within(count) {
    return Math.min(this.data.most_heads, Math.max(1, count));
  }

  #count(count) {
    this.add("heads", { count: this.#within(count) });
  }
}
