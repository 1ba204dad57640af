// Who plays with whom tonight, on the phone: teams in the bibs of the part that is looked at, and who is off next.

import { takesPart } from "../fold.js";
import { offIn } from "./off_next.js";
import { makeTeams, moved, sizes, unmet } from "./teams_made.js";

const MOST_NAMED = 3; // beside the clock
const MOST_WISHES = 12;
const isolated = (name) => `\u2068${name}\u2069`;

export class Teams {
  constructor({ articles, data, words, fill, add, undo, shown }) {
    Object.assign(this, { articles, data, words, fill, add, undo, shown, wishes: [] });
    this.view = document.getElementById("teams");
    this.list = document.getElementById("teams-list");
    this.said = document.getElementById("teams-said");
    document.getElementById("draw-teams").addEventListener("click", () => this.#make());
    this.list.addEventListener("click", (event) => {
      const button = event.target.closest("button[data-player]");
      if (button) this.#move(button.dataset.player, button.querySelector(".who").textContent);
    });
    for (const together of [true, false]) {
      document.getElementById(together ? "pair-together" : "pair-apart").addEventListener("click", () => this.#wish(together));
    }
    document.getElementById("wishes").addEventListener("click", (event) => {
      const button = event.target.closest("button[data-wish]");
      if (button) this.#wished(this.wishes.filter((_, n) => n !== Number(button.dataset.wish)));
    });
    // Names stand only on phones that hold names.
    for (const link of document.querySelectorAll("[data-make-teams]")) link.hidden = !data.players.length;
  }

  draw(state) {
    this.state = state;
    this.names = this.#names(state);
    for (const part of this.data.parts) this.#beside(part);
    if (!this.view.hidden) this.open();
  }

  // Everybody who takes part by the register, and who tries out: by what an event names them.
  #names(state) {
    const here = this.data.players.filter((player) => takesPart(state.register.get(player.id)));
    const known = new Set(this.data.players.map((player) => player.id));
    const guests = [...state.guests].filter((id) => !known.has(id) && takesPart(state.register.get(id)));
    return new Map([
      ...here.map((player) => [player.id, player.name]),
      ...guests.map((id) => [id, this.words.guest]),
      ...[...state.trialists].map(([n, id]) => [id, this.fill(this.words.trialist, { n })]),
    ]);
  }

  // The teams that the part's set-up has, as the page says them, grid by grid; keepers and who is off without a bib apart.
  #slots(part) {
    const found = [];
    let keepers = 0;
    const lists = [...this.articles.get(part.key).querySelectorAll(".tonight .teams")];
    for (const list of lists) {
      for (let times = 0; times < Number(list.dataset.times ?? 1); times += 1) {
        const here = new Map(); // whoever wears one bib on one grid is one team, wherever they begin
        for (const row of list.children) {
          const count = Number(row.dataset.count);
          const bib = row.dataset.bib ?? "";
          if (row.dataset.role === "keeper") keepers += count;
          else if (here.has(bib)) here.get(bib).count += count;
          else if (row.dataset.role !== "off" || bib) here.set(bib, { bib, name: row.querySelector("b").textContent, count });
        }
        found.push(...here.values());
      }
    }
    const slots = found.filter((each) => each.count > 0);
    const alike = (each) => slots.filter(({ name }) => name === each.name);
    // On two grids, or without bibs, several go by one name.
    return { slots: slots.map((each) => (alike(each).length > 1 ? { ...each, name: `${each.name} ${alike(each).indexOf(each) + 1}:` } : each)), keepers };
  }

  #set(part) {
    const { slots } = this.#slots(part);
    const event = this.state.teams.get(part.key) ?? this.state.teams.get(slots.length);
    if (!event || event.teams.length !== slots.length) return null;
    return { ...event, keepers: event.keepers ?? [], wishes: event.wishes ?? [] };
  }

  open() {
    const { part } = this.shown();
    this.part = part;
    const set = this.#set(part);
    this.wishes = set?.wishes ?? this.wishes;
    const { slots, keepers } = this.#slots(part);
    document.getElementById("draw-teams").textContent = set ? this.words.teams_anew : this.words.teams_make;
    document.getElementById("draw-teams").disabled = !this.names.size || !slots.length;
    this.said.textContent = this.#told(set, slots);
    this.list.replaceChildren(...(set ? this.#rows(set, slots, keepers) : []));
    this.#pairs(set);
  }

  #told(set, slots) {
    if (!this.names.size) return this.words.teams_nobody;
    if (!slots.length) return this.words.teams_none;
    if (!set) return this.fill(this.words.teams_for, { n: this.names.size, title: this.part.title });
    const open = unmet(set.teams, set.wishes).map((each) => this.fill(each.together ? this.words.not_together : this.words.not_apart, this.#both(each)));
    const placed = new Set([...set.teams.flat(), ...set.keepers]);
    const missing = [...this.names.keys()].filter((id) => !placed.has(id)).map((id) => isolated(this.names.get(id)));
    return [this.words.teams_tap, ...open, ...(missing.length ? [this.fill(this.words.teams_missing, { who: missing.join(", ") })] : [])].join(" ");
  }

  #both({ first, second }) {
    return { a: isolated(this.names.get(first) ?? ""), b: isolated(this.names.get(second) ?? "") };
  }

  #rows(set, slots, keepers) {
    const off = new Set(this.#off(this.part, set, this.#round()).ids);
    const rows = set.teams.map((ids, n) => this.#team(slots[n].name, slots[n].bib, ids, off));
    if (keepers || set.keepers.length) rows.push(this.#team(this.words.teams_keepers, "", set.keepers, off));
    return rows;
  }

  #team(name, bib, ids, off) {
    const there = ids.filter((id) => this.names.has(id)).sort((a, b) => this.names.get(a).localeCompare(this.names.get(b)));
    const section = document.createElement("section");
    const head = Object.assign(document.createElement("h3"), { textContent: `${name} ${there.length}` });
    if (bib) head.dataset.bib = bib;
    const list = Object.assign(document.createElement("ul"), { className: "names one" });
    list.append(...there.map((id) => {
      const row = document.getElementById("a-name").content.firstElementChild.cloneNode(true);
      row.dataset.state = "here";
      row.querySelector(".who").textContent = this.names.get(id);
      row.querySelector(".how").textContent = off.has(id) ? this.words.off_now : "";
      row.querySelector(".more").remove();
      row.querySelector(".tap").dataset.player = id;
      return row;
    }));
    section.append(head, list);
    return section;
  }

  #make() {
    const { slots } = this.#slots(this.part);
    const before = this.#set(this.part);
    const keepers = (before?.keepers ?? []).filter((id) => this.names.has(id));
    const players = [...this.names.keys()].filter((id) => !keepers.includes(id));
    const seed = crypto.getRandomValues(new Uint32Array(1))[0] >>> 1;
    const { teams } = makeTeams({ players, counts: slots.map((each) => each.count), seed, wishes: this.wishes });
    this.#send({ teams, keepers, seed }, this.fill(this.words.teams_made, { n: sizes(slots.map((each) => each.count), players.length).join(", ") }));
  }

  #move(id, name) {
    const set = this.#set(this.part);
    const { keepers } = this.#slots(this.part);
    const { slots } = this.#slots(this.part);
    const then = moved(set, id, keepers > 0);
    const at = then.teams.findIndex((team) => team.includes(id));
    this.#send({ ...then, seed: set.seed }, `${isolated(name)}: ${at < 0 ? this.words.teams_keepers : slots[at].name}`);
  }

  #send({ teams, keepers, seed }, text) {
    this.undo(text, [this.add("teams_set", { teams, keepers, seed, wishes: this.wishes })]);
  }

  #pairs(set) {
    const options = () => [...this.names].sort((a, b) => a[1].localeCompare(b[1])).map(([id, name]) => new Option(isolated(name), id));
    for (const id of ["pair-first", "pair-second"]) {
      const select = document.getElementById(id);
      const chosen = select.value;
      select.replaceChildren(...options());
      if (this.names.has(chosen)) select.value = chosen;
    }
    document.getElementById("wishes").replaceChildren(...this.wishes.map((each, n) => {
      const row = document.createElement("li");
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: this.words.take_off });
      button.dataset.wish = n;
      row.append(this.fill(each.together ? this.words.wish_together : this.words.wish_apart, this.#both(each)), " ", button);
      return row;
    }));
    document.getElementById("pairs").hidden = this.names.size < 3 || (set === null && !this.names.size);
  }

  #wish(together) {
    const [first, second] = ["pair-first", "pair-second"].map((id) => document.getElementById(id).value);
    if (!first || first === second || this.wishes.length >= MOST_WISHES) return;
    const others = this.wishes.filter((each) => !([each.first, each.second].includes(first) && [each.first, each.second].includes(second)));
    this.#wished([...others, { first, second, together }]);
  }

  // Teams that stand are drawn again with the same seed, so that no more changes than the wish asks for.
  #wished(wishes) {
    this.wishes = wishes;
    const set = this.#set(this.part);
    if (!set) return this.open();
    const players = set.teams.flat().filter((id) => this.names.has(id));
    const counts = this.#slots(this.part).slots.map((each) => each.count);
    const stands = unmet(set.teams, wishes).length === 0;
    const { teams } = stands ? set : makeTeams({ players, counts, seed: set.seed ?? 0, wishes });
    return this.#send({ teams, keepers: set.keepers, seed: set.seed }, this.words.wish_saved);
  }

  // ---- beside the clock and the part -----------------------------------------------------------------------------

  #beside(part) {
    const box = this.articles.get(part.key).querySelector(".own-teams");
    const set = this.names.size ? this.#set(part) : null;
    box.hidden = !set;
    if (!set) return;
    const { slots } = this.#slots(part);
    const list = Object.assign(document.createElement("ul"), { className: "teams" });
    const row = (name, bib, ids) => {
      const line = document.createElement("li");
      if (bib) line.dataset.bib = bib;
      const who = ids.filter((id) => this.names.has(id)).map((id) => isolated(this.names.get(id))).sort((a, b) => a.localeCompare(b));
      line.append(Object.assign(document.createElement("b"), { textContent: name }), ` ${who.join(", ")}`);
      return line;
    };
    list.append(...set.teams.map((ids, n) => row(slots[n].name, slots[n].bib, ids)));
    if (set.keepers.length) list.append(row(this.words.teams_keepers, "", set.keepers));
    box.replaceChildren(Object.assign(document.createElement("h3"), { textContent: this.words.teams_tonight }), list);
  }

  #round() {
    return Number(this.articles.get(this.part.key).dataset.round ?? 1);
  }

  #off(part, set, round) {
    const own = this.state.parts.get(part.key);
    const waiting = own.setup?.waiting ?? (own.swap ? 0 : part.drawn?.waiting ?? 0);
    const ids = set ? set.teams.flat() : [...this.names.keys()];
    const ring = ids.filter((id) => this.names.has(id)).sort((a, b) => this.names.get(a).localeCompare(this.names.get(b)) || (a < b ? -1 : 1));
    const planned = own.setup || own.swap ? null : part.off?.[round - 1]?.filter((id) => this.names.has(id));
    return offIn(round, { bibs: part.turns[round - 1]?.[2] ?? "", planned, waiting, ring });
  }

  // Beside the clock: who is off in the round that comes next. `clock` is what it shows.
  offNext({ part, article }, clock) {
    const round = clock.run === "wait" ? 1 : clock.next?.kind === "bout" ? clock.next.n : clock.next?.kind === "rest" ? clock.spell.n + 1 : null;
    article.dataset.round = clock.spell?.n ?? 1;
    if (!this.names || round === null || round > part.bouts) return "";
    const { bibs, ids } = this.#off(part, this.#set(part), round);
    if (bibs) return clock.next?.kind === "rest" ? this.fill(this.words.off_next, { who: bibs }) : ""; // beside a round it is said already
    const named = ids.slice(0, MOST_NAMED).map((id) => isolated(this.names.get(id)));
    if (!named.length) return "";
    const more = ids.length > MOST_NAMED ? ` +${ids.length - MOST_NAMED}` : "";
    return this.fill(this.words.off_next, { who: named.join(", ") + more });
  }
}
