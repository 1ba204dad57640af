// Another drill in a part's place: that of a part that is still to come, or one of the library that runs tonight.

import { answerOf, nearest, sourceOf } from "./answers.js";

const OF_A_DRILL = new Set(["part_swapped", "fit_accepted", "easier", "harder"]);

export class Instead {
  constructor({ articles, data, words, fill, add, undo, looks, turnOut, along, say, happened }) {
    Object.assign(this, { articles, data, words, fill, add, undo, looks, turnOut, along, say, happened });
    for (const part of data.parts) {
      const fold = articles.get(part.key).querySelector(".instead");
      fold?.addEventListener("toggle", () => { if (fold.open) this.#list(part, fold); });
      fold?.addEventListener("click", (event) => {
        const button = event.target.closest("button[data-instead]");
        if (!button) return;
        const what = JSON.parse(button.dataset.instead);
        if (what.back) this.#back(part, fold);
        else this.#take(part, what, fold);
      });
    }
  }

  draw(state) {
    this.state = state;
    for (const part of this.data.parts) {
      const { swap } = state.parts.get(part.key);
      const line = this.articles.get(part.key).querySelector(".swapped");
      if (!line) continue;
      line.hidden = !swap;
      const planned = this.looks.own.get(part.key)?.title ?? part.title;
      const text = swap ? this.fill(this.words.swapped, { title: planned }) : "";
      if (line.textContent !== text) line.textContent = text;
    }
  }

  async #list(part, fold) {
    const taken = await this.along().catch(() => null);
    const box = fold.querySelector("div") ?? fold.appendChild(document.createElement("div"));
    if (!taken) return box.replaceChildren(this.#line(this.words.instead_later));
    const choices = [...this.#parts(part, taken), ...taken.instead.filter((each) => each.offered).map((each) => this.#library(each, taken))];
    const own = this.state.parts.get(part.key);
    if (own.swap) choices.unshift({ title: this.looks.own.get(part.key).title, note: this.words.as_planned_again, back: true });
    box.replaceChildren(...(choices.length ? choices.map((each) => this.#choice(each)) : [this.#line(this.words.instead_none)]));
    return null;
  }

  #line(text) {
    return Object.assign(document.createElement("p"), { textContent: text });
  }

  // Both change places while this part has not begun: nothing is played twice, nothing is lost.
  #parts(part, taken) {
    const begun = this.state.parts.get(part.key).started !== null;
    return this.data.parts.filter((each) => each !== part && taken.parts[each.key] && taken.parts[part.key]).flatMap((each) => {
      const other = this.state.parts.get(each.key);
      if (other.started !== null || other.swap || this.state.parts.get(part.key).swap) return [];
      const { drill, revision } = taken.parts[each.key];
      const n = this.data.parts.indexOf(each) + 1;
      const note = begun ? this.fill(this.words.of_part, { n }) : this.fill(this.words.change_places, { n, title: part.title });
      return [{ title: each.title, note, drill, revision, other: begun ? null : each.key }];
    });
  }

  #library(each, taken) {
    const answer = answerOf(taken, each);
    return { title: each.title, note: [answer?.headline, each.fetch].filter(Boolean).join(". "), drill: each.drill, revision: each.revision, rung: answer?.rung ?? "" };
  }

  #choice({ title, note, ...what }) {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "wide choice" });
    button.dataset.instead = JSON.stringify({ title, ...what });
    button.append(Object.assign(document.createElement("b"), { textContent: title }), " ", Object.assign(document.createElement("small"), { textContent: note }));
    return button;
  }

  #take(part, { title, drill, revision, rung, other }, fold) {
    const taken = this.looks.taken;
    const swaps = [{ part, drill, revision, rung: rung ?? this.#rung(drill, revision) }];
    if (other) {
      const back = taken.parts[part.key];
      swaps.push({ part: this.data.parts.find((each) => each.key === other), drill: back.drill, revision: back.revision, rung: this.#rung(back.drill, back.revision) });
    }
    const done = swaps.flatMap((each) => [this.add("part_swapped", { ...each, part: each.part.key }), ...this.#setUp(each, taken)]);
    fold.open = false;
    this.articles.get(part.key).scrollIntoView(); // first: what is said of a tap stands where the thumbs are seen
    this.undo(this.fill(this.words.swapped_to, { title }), done);
  }

  // As planned: whatever was put in its place did not happen, nor what was made of it since.
  #back(part, fold) {
    const own = this.happened().filter((each) => OF_A_DRILL.has(each.kind) && each.part === part.key && !this.state.undone.has(each.id));
    const since = Math.min(...own.filter((each) => each.kind === "part_swapped").map((each) => each.ms));
    fold.open = false;
    for (const each of own.filter(({ ms }) => ms >= since)) this.add("undone", { event: each.id });
  }

  // The variation that the part which has this drill plans.
  #rung(drill, revision) {
    const found = Object.entries(this.looks.taken.parts).find(([, each]) => each.drill === drill && each.revision === revision);
    const look = found && (this.looks.own.get(found[0]) ?? this.data.parts.find((each) => each.key === found[0]));
    return look?.rungs[look.rung]?.key ?? "";
  }

  // For who is here, where that was worked out; a plan B comes set up for the number that it was worked out for.
  #setUp({ part, drill, revision }, taken) {
    const { answer, players } = nearest(taken, sourceOf(taken, part.key, { drill, revision }), this.turnOut.players);
    if (!answer || players !== this.turnOut.players) return [];
    return [this.add("fit_accepted", { part: part.key, rung: answer.rung, setup: answer.setup })];
  }
}
