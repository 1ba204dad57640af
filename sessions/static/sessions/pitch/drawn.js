// What of a part is drawn anew when it is set up otherwise: its plans, its teams and its words.

import { turn } from "./turn_plan.js";

export class Drawn {
  constructor(articles, turned) {
    Object.assign(this, { articles, turned });
  }

  // From the server: teams, turns, words in tonight's bibs, and every rung's plan with tonight's numbers.
  redraw(part, page) {
    const article = this.articles.get(part.key);
    const teams = page.querySelector(".tonight");
    const plans = page.querySelector(".plans");
    part.turns = JSON.parse(teams.dataset.turns);
    article.querySelector(".tonight").replaceWith(teams);
    for (const old of article.querySelectorAll(".drawn")) old.remove();
    article.querySelector(".plan").prepend(...plans.children);
    JSON.parse(plans.dataset.plans).forEach((plan, n) => { part.rungs[n].plan = plan; });
    for (const words of page.querySelectorAll("[data-words]")) {
      article.querySelector(`[data-words="${words.dataset.words}"]`)?.replaceChildren(...words.childNodes);
    }
    this.upright(part);
  }

  // Puts everything back as it is now: for a set-up that is undone.
  kept(part) {
    const article = this.articles.get(part.key);
    const before = { stale: [], beside_numbers: [], taken: false, ...part };
    const plans = part.rungs.map((rung) => rung.plan);
    const tonight = article.querySelector(".tonight");
    const drawn = [...article.querySelectorAll(".drawn")];
    const words = [...article.querySelectorAll("[data-words]")].map((holder) => [holder, [...holder.childNodes]]);
    return () => {
      Object.assign(part, before);
      plans.forEach((plan, n) => { part.rungs[n].plan = plan; });
      article.querySelector(".tonight").replaceWith(tonight);
      for (const each of article.querySelectorAll(".drawn")) each.remove();
      article.querySelector(".plan").prepend(...drawn);
      for (const [holder, nodes] of words) holder.replaceChildren(...nodes);
      this.upright(part);
    };
  }

  // No answer: the one picture that is here.
  onePlan(part, picture) {
    const figure = this.articles.get(part.key).querySelector(".plan");
    figure.querySelector('[data-plan="tonight"]')?.remove();
    const holder = Object.assign(document.createElement("span"), { className: "drawn" });
    holder.dataset.plan = "tonight";
    holder.append(picture);
    figure.prepend(holder);
    this.upright(part);
  }

  upright({ key }) {
    for (const svg of this.articles.get(key).querySelectorAll(".drawn svg")) turn(svg, this.turned.get(key) ?? 0);
  }
}
