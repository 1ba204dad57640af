// Those who try out: numbers without a name. One tap adds one, one takes them off again.

export class Trialists {
  constructor({ words, add, fill, undo, most }) {
    Object.assign(this, { words, add, fill, undo, most, there: new Map() });
    this.list = document.getElementById("trialists");
    this.button = document.getElementById("add-trialist");
    this.button.addEventListener("click", () => add("trialist", { number: this.#free(), here: true }));
    this.list.addEventListener("click", (event) => {
      const row = event.target.closest("li");
      if (!row || !event.target.closest("button")) return;
      const number = Number(row.dataset.number);
      undo(fill(words.trialist_off, { n: number }), [add("trialist", { number, here: false, joined: this.there.get(number) })]);
    });
  }

  draw(state) {
    this.there = state.trialists;
    this.button.disabled = this.there.size >= this.most;
    this.list.replaceChildren(...[...this.there.keys()].sort((a, b) => a - b).map((number) => this.#row(number)));
    document.getElementById("trying").textContent = this.there.size ? `+${this.there.size}` : "";
    const { size } = this.there;
    document.getElementById("trialing").textContent = size ? this.fill(size === 1 ? this.words.one_trialist : this.words.trialists, { n: size }) : "";
  }

  #free() {
    let number = 1;
    while (this.there.has(number)) number += 1;
    return number;
  }

  #row(number) {
    const row = document.getElementById("a-name").content.firstElementChild.cloneNode(true);
    row.dataset.number = number;
    row.dataset.state = "here";
    row.querySelector(".who").textContent = this.fill(this.words.trialist, { n: number });
    row.querySelector(".how").textContent = this.words.take_off;
    row.querySelector(".more").remove();
    return row;
  }
}
