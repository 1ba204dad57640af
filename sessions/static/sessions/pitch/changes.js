// What changes a part while it runs: a round fewer, the part skipped, the evening finished early. Each can be undone.

import { write } from "./write.js";

export class Changes {
  constructor(given) {
    Object.assign(this, given);
    this.pressed = { drop: (now) => this.#drop(now), skip: (now) => this.#skip(now), finish: () => this.finish(this.words.finished_early) };
  }

  draw(state) {
    for (const button of document.querySelectorAll("[data-go]")) {
      button.classList.toggle("skipped", state.parts.get(button.dataset.go).skipped);
    }
  }

  tick({ article, part, own }, clock) {
    const left = roundsLeft(part, own, clock);
    const [drop, skip, finish] = ["drop", "skip", "finish"].map((what) => article.querySelector(`[data-do="${what}"]`));
    drop.disabled = left < 1;
    write(drop.querySelector(".second"), this.fill(this.words.to_come, { n: left }));
    write(skip, own.skipped ? this.words.unskip : clock.run === "wait" ? this.words.skip : this.words.skip_rest);
    skip.disabled = own.ended !== null;
    finish.disabled = !this.ran();
  }

  #drop({ key, part, own }) {
    this.undo(this.fill(this.words.was_dropped, { n: part.bouts - own.dropped - 1 }), [this.add("bout_dropped", { part: key, bouts: 1 })]);
  }

  #skip(now) {
    if (now.own.skipped) {
      const event = this.last((each) => each.kind === "part_skipped" && each.part === now.key);
      if (event) this.undo(this.words.taken_back, [this.add("undone", { event: event.id })]);
      return;
    }
    this.begun(now);
    this.look(null);
    const event = this.add("part_skipped", { part: now.key });
    scrollTo(0, 0);
    this.undo(this.fill(this.words.was_skipped, { title: now.part.title }), [event]);
  }
}

// Rounds that have not begun yet: the one that is on, or the one before this rest, stays.
export function roundsLeft(part, own, clock) {
  const begun = { wait: 1, over: part.bouts }[clock.run] ?? clock.spell.n;
  return clock.spell?.kind === "ends" ? 0 : Math.max(0, part.bouts - own.dropped - begun);
}
