// How each part looks: as the page has it, set up otherwise, or with another drill in its place. It follows from what
// happened, so that what is undone looks as it did before, and a phone that was told later looks like the one that tapped.

import { answerOf, sourceOf } from "./answers.js";

const WORDS = ["condition", "rules", "say", "coaching", "safety"];
const OF_ANY = "along-"; // of names inside a picture that was taken along
const TO_DRAW = "to draw";
const named = (setup, rung) => [setup.players_total, setup.numbers, setup.grids, rung ?? ""].join("|");
const nameOf = (part, ...set) => `${part.key} ${named(...set)}`;
const same = (a, b) => Boolean(a && b) && ["players_total", "numbers", "grids"].every((name) => a[name] === b[name]);

function parsed(html) {
  const box = document.createElement("template");
  box.innerHTML = html;
  return box.content;
}

// `ladder` has by rung the number of the piece that is its plan, or null for the one that the page came with.
function withPlans(look, ladder, html) {
  const numbers = [...new Set(ladder.filter((each) => each !== null))];
  const plans = numbers.map((number, n) => {
    const plan = Object.assign(document.createElement("span"), { className: "drawn", hidden: true });
    plan.dataset.plan = n + 1;
    plan.append(parsed(html[number]));
    return plan;
  });
  const rungs = look.rungs.map((rung, n) => ({ ...rung, plan: ladder[n] === null ? 0 : numbers.indexOf(ladder[n]) + 1 }));
  return { ...look, rungs, plans: [...look.plans, ...plans] };
}

const copies = (nodes) => [...nodes].map((each) => each.cloneNode(true));

export class Looks {
  constructor({ articles, parts, upright, words }) {
    Object.assign(this, { articles, parts, upright, words, taken: null });
    this.own = new Map(); // by part, as the page came
    this.sent = new Map(); // by part and set-up, what the server drew
    this.shown = new Map();
  }

  // What the server drew for a set-up (or the one picture of it that is at hand), for when it is the one that holds.
  sentFor(part, setup, rung, page) {
    this.sent.set(nameOf(part, setup, rung), page);
    this.shown.delete(part.key);
  }

  // Once it is here, every variation has its own plan; until then the planned one's stands for all.
  take(taken) {
    this.taken = taken;
    this.#keepOwn();
    for (const part of this.parts) {
      const ladder = taken.parts[part.key]?.ladder;
      const before = this.own.get(part.key);
      if (ladder) this.own.set(part.key, withPlans(before, ladder, taken.html));
      if (this.shown.get(part.key)) this.shown.set(part.key, TO_DRAW);
      else if (ladder) this.#morePlans(part, before.plans.length);
    }
  }

  // What stands on the page stays: the others come beside it.
  #morePlans(part, from) {
    const look = this.own.get(part.key);
    part.rungs = look.rungs;
    const last = [...this.articles.get(part.key).querySelectorAll(".plan > .drawn")].at(-1);
    last?.after(...copies(look.plans.slice(from)));
    this.upright(part);
  }

  sync(state) {
    let changed = false;
    for (const part of this.parts) {
      const own = state.parts.get(part.key);
      const [name, make] = this.#wanted(part, own);
      if (name === (this.shown.get(part.key) ?? "")) continue;
      this.#keepOwn();
      this.#put(part, make());
      this.shown.set(part.key, name);
      changed = true;
    }
    return changed;
  }

  // The name of a look, and how it is made; the empty one is the page's own.
  #wanted(part, own) {
    const base = own.swap ? this.#swapped(part, own.swap) : ["", () => this.own.get(part.key)];
    if (!own.last) return base;
    const { setup, rung } = own.last; // also of the rung that the coach has left since: plans and words of all are drawn with it
    if (!own.swap && same(setup, part.drawn) && (rung === null || rung === this.#planned(part))) return base;
    const name = nameOf(part, setup, rung);
    const page = this.sent.get(name);
    if (page?.querySelector(".plans") && !own.swap) return [`${name} sent`, () => this.#redrawn(base[1](), page)];
    const answer = this.#answer(part, own);
    if (answer) return [`${base[0]} ${name} along`, () => this.#overlaid(part, base[1](), answer)];
    return page ? [`${base[0]} ${name} picture`, () => this.#pictured(base[1](), page)] : base;
  }

  #planned(part) {
    const look = this.own.get(part.key) ?? part;
    return look.rungs[look.rung]?.key;
  }

  #answer(part, own) {
    if (!this.taken) return null;
    const source = sourceOf(this.taken, part.key, own.swap);
    const { setup, rung } = own.last;
    const rows = [...Object.values(source?.near ?? {}), ...Object.values(source?.all ?? {}).flat().filter((each) => each.station === null)];
    return rows.map((row) => answerOf(this.taken, row)).find((each) => each && same(each.setup, setup) && (rung === null || each.rung === rung)) ?? null;
  }

  #swapped(part, swap) {
    const name = `${swap.drill} ${swap.revision}`;
    const found = this.taken && Object.entries(this.taken.parts).find(([, each]) => each.drill === swap.drill && each.revision === swap.revision);
    if (found) return [name, () => ({ ...this.own.get(found[0]), players: this.parts.find((each) => each.key === found[0]).set_for })];
    const other = this.taken?.instead.find((each) => each.drill === swap.drill && each.revision === swap.revision);
    if (other?.answer === undefined) return [`${name} not here`, () => ({ ...this.own.get(part.key), title: this.words.swapped_later })];
    const answer = this.taken.answers[other.answer];
    const rungs = [{ key: answer.rung, side: "base", plan: "tonight", easier: null, harder: null, back: null }];
    const empty = { title: other.title, rungs, rung: 0, plans: [], lines: [], words: {} };
    return [name, () => ({ ...this.#overlaid(part, empty, answer), players: answer.setup?.players_total ?? null })];
  }

  // Every part as it came, before the first one is drawn anew: one may be played in another's place.
  #keepOwn() {
    if (this.own.size) return;
    for (const part of this.parts) {
      const article = this.articles.get(part.key);
      this.own.set(part.key, {
        title: part.title, rungs: part.rungs, rung: part.rung, turns: part.turns,
        teams: article.querySelector(".tonight").cloneNode(true),
        plans: copies(article.querySelectorAll(".plan > .drawn")),
        lines: copies(article.querySelectorAll(".say > .rung")),
        words: Object.fromEntries(WORDS.map((name) => [name, copies(article.querySelector(`[data-words="${name}"]`)?.childNodes ?? [])])),
      });
    }
  }

  #overlaid(part, look, answer) {
    const html = (name) => this.taken.html[answer[name]] ?? "";
    const words = { ...look.words };
    for (const name of ["say", "coaching", "safety"]) words[name] = [...parsed(html(name)).childNodes];
    for (const name of ["condition", "rules"]) {
      const piece = [...parsed(html(name)).childNodes];
      const others = (look.words[name] ?? []).filter((each) => each.dataset?.rung !== answer.rung);
      words[name] = [...others, ...piece];
    }
    const teams = parsed(html("teams")).firstElementChild;
    const picture = parsed(html("plan").replaceAll(OF_ANY, `a${this.parts.indexOf(part)}-`));
    return { ...this.#pictured(look, picture), words, teams, turns: JSON.parse(teams.dataset.turns) };
  }

  #pictured(look, picture) {
    const plan = Object.assign(document.createElement("span"), { className: "drawn" });
    plan.dataset.plan = "tonight";
    plan.append(picture.cloneNode(true));
    return { ...look, plans: [...look.plans, plan] };
  }

  #redrawn(look, page) {
    const plans = page.querySelector(".plans");
    const numbers = JSON.parse(plans.dataset.plans);
    const teams = page.querySelector(".tonight");
    const words = { ...look.words };
    for (const each of page.querySelectorAll("[data-words]")) words[each.dataset.words] = [...each.childNodes];
    const rungs = look.rungs.map((rung, n) => ({ ...rung, plan: numbers[n] ?? rung.plan }));
    return { ...look, rungs, words, teams, turns: JSON.parse(teams.dataset.turns), plans: [...plans.children] };
  }

  #put(part, look) {
    const article = this.articles.get(part.key);
    Object.assign(part, { title: look.title, rungs: look.rungs, rung: look.rung, turns: look.turns, swappedFor: look.players });
    article.setAttribute("aria-label", look.title);
    article.querySelector(".further h2").textContent = look.title;
    article.querySelector(".tonight").replaceWith(look.teams.cloneNode(true));
    for (const old of article.querySelectorAll(".plan > .drawn")) old.remove();
    article.querySelector("figure.plan")?.prepend(...copies(look.plans));
    for (const old of article.querySelectorAll(".say > .rung")) old.remove();
    article.querySelector(".say > [data-words]").before(...copies(look.lines));
    for (const name of WORDS) article.querySelector(`[data-words="${name}"]`)?.replaceChildren(...copies(look.words[name] ?? []));
    document.querySelector(`.parts [data-go="${part.key}"] b`)?.replaceChildren(look.title);
    this.upright(part);
  }
}
