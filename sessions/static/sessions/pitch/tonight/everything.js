// Everything set up for who is here, offered where the register has another number than the parts are set up for, or where
// a set-up is not one for tonight any more; why, is said at each part. Without signal it is done with what was taken along.

import { answerOf, insteadSaid, nearest, sourceOf } from "./answers.js";

const SLOW_MS = 8000;

export class EverythingView {
  constructor({ root, data, words, fill, token, turnOut, looks, along, add, undo, known, happened }) {
    Object.assign(this, { root, data, words, fill, token, turnOut, looks, along, add, undo, known, happened });
    this.box = document.getElementById("everything");
    this.button = document.getElementById("set-up-all");
    this.became = document.getElementById("became");
    this.button.addEventListener("click", () => this.#ask());
  }

  draw(state) {
    this.state = state;
    this.players = this.turnOut.players;
    let waits = false;
    for (const part of this.data.parts) {
      const own = state.parts.get(part.key);
      const why = this.#stale(part, own);
      this.#show(part, why);
      waits ||= why.length > 0 || (this.turnOut.isSaid && this.#differs(part, own));
    }
    this.button.hidden = !waits;
    this.box.hidden = !waits && !this.became.childElementCount;
    this.button.textContent = this.fill(this.words.all_up, { n: this.players });
  }

  // The one offer stands where the number is: below the names, or below the stepper.
  stand(view) {
    if (view === "numbers") document.getElementById("answers").before(this.box);
    if (view === "register") document.getElementById("begin").before(this.box);
  }

  // For how many it stands now: what was accepted last, of all its stations; else as the page came.
  #now(part, own) {
    const own1 = own.setup?.players_total ?? null;
    if (own.swap) return own1 ?? part.swappedFor ?? null;
    if (part.stations === 1) return own1 ?? part.set_for;
    const others = [...own.others.values()].reduce((sum, each) => sum + each.players_total, 0);
    return own1 !== null && own.others.size === part.stations - 1 ? own1 + others : part.set_for;
  }

  #differs(part, own) {
    return part.stations > 0 && own.started === null && this.#now(part, own) !== this.players;
  }

  // Why its set-up is not one for tonight: as the server said it, while the number is the one that it counted.
  #stale(part, own) {
    const now = this.#now(part, own);
    if (own.started !== null || now === null) return [];
    const others = own.swap || own.setup ? [] : part.beside_numbers;
    if (this.players === this.data.tonight && !own.swap && !own.setup) return part.stale;
    if (now === this.players) return others;
    const words = this.players === 1 ? this.words.stale_one : this.words.stale_many;
    return [this.fill(words, { then: now, now: this.players }), ...others];
  }

  #show(part, why) {
    const list = document.querySelector(`[data-part="${CSS.escape(part.key)}"] .stale`);
    list.hidden = why.length === 0;
    if ([...list.children].map((each) => each.textContent).join("\n") === why.join("\n")) return;
    list.replaceChildren(...why.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
  }

  async #ask() {
    const { players } = this;
    this.button.disabled = true;
    const page = await this.#sent(players);
    if (page?.querySelector("[data-standing]")) this.#take(page, players);
    else if (page) this.became.replaceChildren(...page.body.children); // what was wrong with it
    else await this.#alone(players);
    this.box.hidden = false; // what became of it is read, though nothing waits any more
    this.button.disabled = false;
  }

  async #sent(players) {
    try {
      const init = { method: "POST", body: new URLSearchParams({ players }), headers: { "X-CSRFToken": this.token() } };
      const response = await fetch(this.root.dataset.setUpAll, { ...init, signal: AbortSignal.timeout(SLOW_MS) });
      if (response.redirected) return null;
      return new DOMParser().parseFromString(await response.text(), "text/html");
    } catch {
      return null;
    }
  }

  #take(page, players) {
    const before = this.data.parts.map(({ set_for, stale, beside_numbers }) => ({ set_for, stale, beside_numbers }));
    const tonight = this.data.tonight;
    const standing = JSON.parse(page.querySelector("[data-standing]").dataset.standing);
    for (const part of this.data.parts) Object.assign(part, standing[part.key]);
    this.data.tonight = players;
    const done = [];
    for (const each of page.querySelectorAll("[data-redrawn]")) {
      const part = this.data.parts.find((one) => one.key === each.dataset.redrawn);
      const event = JSON.parse(each.dataset.event);
      this.looks.sentFor(part, event.setup, event.rung ?? null, each.content);
      this.known(event);
      done.push(event);
      each.remove();
    }
    this.became.replaceChildren(...page.body.children);
    const swapped = this.data.parts.filter((part) => this.#toCome(part)?.swap);
    const [own, lines] = this.looks.taken ? this.#each(swapped, players, this.looks.taken) : [[], []];
    this.became.querySelector("ul").append(...lines);
    // Stations beside a part's first one were set up at the same moment; their events come with the news.
    const all = () => [...own, ...this.happened().filter((each) => done.some((one) => one.kind === each.kind && one.ms === each.ms))];
    if (done.length || own.length) {
      this.undo(this.#said(players), all, () => {
        this.data.parts.forEach((part, n) => Object.assign(part, before[n]));
        this.data.tonight = tonight;
        this.became.replaceChildren();
      });
    }
    this.draw(this.state);
  }

  #toCome(part) {
    const own = this.state.parts.get(part.key);
    return own.started === null && part.stations > 0 ? own : null;
  }

  #said(players) {
    return this.fill(this.words.all_done, { n: players });
  }

  // Without signal, or with a slow one: each part that has not begun takes its answer from what was taken along.
  async #alone(players) {
    const line = (textContent) => Object.assign(document.createElement("p"), { textContent });
    const taken = await this.along().catch(() => null);
    if (!taken) return this.became.replaceChildren(line(this.words.all_later));
    const [done, lines] = this.#each(this.data.parts, players, taken);
    const head = line("");
    head.append(Object.assign(document.createElement("b"), { textContent: done.length ? this.#said(players) : this.words.all_none }));
    const list = Object.assign(document.createElement("ul"), { className: "became" });
    list.append(...lines);
    this.became.replaceChildren(head, list);
    if (done.length) this.undo(this.#said(players), done, () => this.became.replaceChildren());
    return null;
  }

  #each(parts, players, taken) {
    const done = [];
    const lines = [];
    for (const part of parts) {
      const own = this.#toCome(part);
      if (!own) continue;
      const row = Object.assign(document.createElement("li"), { innerHTML: "<b></b> " });
      row.firstChild.textContent = `${this.data.parts.indexOf(part) + 1}. ${part.title}`;
      const [events, texts] = this.#one(part, own, players, taken);
      for (const body of events) done.push(this.add("fit_accepted", body));
      row.toggleAttribute("data-changed", events.length > 0);
      texts.forEach((text, n) => row.append(...(n ? [document.createElement("br")] : []), text));
      lines.push(row);
    }
    return [done, lines];
  }

  // What one part becomes: the events of its stations, and what is said of it.
  #one(part, own, players, taken) {
    const source = sourceOf(taken, part.key, own.swap);
    const rows = own.swap ? [{ station: null, title: part.title, ...(source?.near?.[players] ?? {}) }] : source?.all?.[players] ?? [];
    const untouched = !own.setup && !own.swap;
    if (rows.length && rows.every((row) => row.holds) && untouched) return [[], rows.map((row) => row.now)];
    const events = [];
    const texts = [];
    for (const row of rows) {
      const answer = answerOf(taken, row);
      if (row.holds && untouched) texts.push(row.now);
      else if (answer) events.push({ part: part.key, setup: answer.setup, ...(row.station ? { station: row.station } : { rung: answer.rung }) });
      if (answer && !(row.holds && untouched)) texts.push(rows.length > 1 ? `${row.title}: ${answer.headline}` : answer.headline);
      else if (!answer && !row.holds) texts.push(...(row.why ?? []), this.#nearest(taken, source, players));
    }
    return [events, rows.length ? texts : [this.#nearest(taken, source, players)]];
  }

  #nearest(taken, source, players) {
    return insteadSaid(nearest(taken, source, players), players, this.words, this.fill);
  }
}
