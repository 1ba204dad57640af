// What tonight's numbers change: how many play, what each part becomes, another drill in its place, who plays with whom.

import { EverythingView } from "./everything.js";
import { Instead } from "./instead.js";
import { Looks } from "./looks.js";
import { NumbersView } from "./numbers.js";
import { Teams } from "./teams.js";

const AGAIN_MS = 5000;

export class Tonight {
  constructor(page) {
    Object.assign(this, page);
    const { articles, data, upright, words } = page;
    this.looks = new Looks({ articles, parts: data.parts, upright, words });
    const shared = { ...page, looks: this.looks };
    this.numbers = new NumbersView({ ...shared, accept: this.#accept.bind(this), changed: () => this.#numbers() });
    this.everything = new EverythingView(shared);
    this.instead = new Instead(shared);
    this.teams = new Teams(shared);
    this.#take();
  }

  draw(state) {
    this.state = state;
    this.looks.sync(state);
    this.#numbers();
    this.instead.draw(state);
    this.teams.draw(state);
  }

  stand(view) {
    this.everything.stand(view);
    if (view === "teams") this.teams.open();
  }

  // The stepper and the offer show one number.
  #numbers() {
    this.everything.draw(this.state);
    this.numbers.draw(this.state);
  }

  #accept(part, rung, setup, page, headline) {
    if (page) this.looks.sentFor(part, setup, rung, page);
    const event = this.add("fit_accepted", { part: part.key, rung, setup });
    this.go("part");
    this.undo(headline, [event]);
  }

  // What is worked with without signal comes after the clock runs, and is asked for until it is there.
  async #take() {
    try {
      this.looks.take(await this.along());
      this.root.dataset.taken = "";
      this.again();
    } catch {
      setTimeout(() => this.#take(), AGAIN_MS);
    }
  }
}
