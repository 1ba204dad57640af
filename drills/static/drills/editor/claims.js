// What the text says of the plan: each is checked against the moves by the server; here they are said and taken back.

import { number } from "./fields.js";
import { element } from "./panels.js";

const one = (id) => document.getElementById(id);
const AIMS = ["receiver", "gate", "zone", "goal"]; // fields that all say where to

export class Claims {
  constructor(editor) {
    this.editor = editor;
    this.form = one("new-claim");
    this.form.elements.kind.addEventListener("change", () => this.#fit());
    this.form.addEventListener("submit", (event) => { event.preventDefault(); this.#add(); });
    one("claims-list").addEventListener("click", (event) => this.#taken(event.target.closest("button")));
    this.#fit();
  }

  get fields() { return this.editor.data.claims[this.form.elements.kind.value]; }

  // The server's answer: each with whether the moves show it.
  show(rows) {
    const list = one("claims-list");
    const stood = list.contains(document.activeElement);
    list.replaceChildren(...rows.map((row, index) => {
      const made = element("li");
      const found = row.missing ? "claimmissing" : row.shown ? "claimshown" : "claimnot";
      const away = element("button", "small-button", this.editor.word("takeback"));
      Object.assign(away, { type: "button" }).dataset.claim = index;
      away.setAttribute("aria-label", `${this.editor.word("takeback")}: ${row.text}`);
      made.append(element("span", "", `${row.text}: ${this.editor.word(found, { missing: row.missing })}`), away);
      return made;
    }));
    if (stood) (list.querySelector("button") ?? this.form.elements.kind).focus();
  }

  #fit() {
    for (const field of this.form.querySelectorAll("[data-asks]")) field.hidden = !this.fields.includes(field.dataset.asks);
  }

  #add() {
    const { kind, who, step } = this.form.elements;
    const claim = { kind: kind.value };
    if (this.fields.includes("who") && who.value) claim.who = who.value;
    if (step.value) claim.step = step.value;
    const aim = AIMS.find((each) => this.fields.includes(each));
    if (aim && this.form.elements[aim].value) claim.to = this.form.elements[aim].value;
    if (this.fields.includes("number")) {
      claim.number = number(this.form.elements.number.value);
      if (claim.number === null || claim.number < 1 || !Number.isInteger(claim.number)) {
        this.editor.tell(this.editor.word("notcount", { text: this.form.elements.number.value }));
        return;
      }
    }
    this.editor.change((scene) => { scene.claims.push(claim); });
  }

  #taken(button) {
    if (button) this.editor.change((scene) => { scene.claims.splice(Number(button.dataset.claim), 1); });
  }
}
