// The plans of a part, as they stand to where the coach stands.

import { turn } from "./turn_plan.js";

export class Drawn {
  constructor(articles, turned) {
    Object.assign(this, { articles, turned });
  }

  upright({ key }) {
    for (const svg of this.articles.get(key).querySelectorAll(".drawn svg")) turn(svg, this.turned.get(key) ?? 0);
  }
}
