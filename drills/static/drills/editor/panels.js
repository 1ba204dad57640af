// What stands beside the plan: the lists, the fields of what is chosen, the checks with their reasons.

import { COACH, endStep, everything, find, place, round, spotOf, stateAt, swapSteps, takeStep, targetOf, timeMove, aim } from "./model.js";
import { Fields, offer } from "./fields.js";

const one = (id) => document.getElementById(id);

export class Panels {
  constructor(editor) {
    this.editor = editor;
    this.fields = {};
    for (const group of document.querySelectorAll("[data-of]")) {
      const wrong = (text) => { editor.tell(editor.word("notnumber", { text })); this.show(); };
      this.fields[group.dataset.of] = new Fields(group, (name, value) => this.#changed(group.dataset.of, name, value), wrong);
    }
    for (const button of document.querySelectorAll("[data-step]")) button.addEventListener("click", () => this.#step(button.dataset.step));
  }

  show() {
    const { scene, view } = this.editor;
    this.#steps(scene, view);
    this.#offers(scene);
    this.#things(scene);
    one("put").hidden = view !== 0;
    one("step").hidden = one("step-more").hidden = !view;
    if (view) this.#moves(scene, view - 1);
    this.#chosen(scene, view);
    this.#whose(scene);
  }

  #steps(scene, view) {
    const buttons = scene.steps.map((step, index) => button(String(index + 1), this.editor.word("step", { n: index + 1 }), { view: index + 1 }));
    keepFocus(one("steps"), buttons);
    for (const each of document.querySelectorAll("[data-view]")) each.setAttribute("aria-pressed", String(each.dataset.view === String(view ?? "all")));
    one("add-step").disabled = scene.steps.length >= 20;
  }

  #offers(scene) {
    const name = (each) => [each.key, this.editor.name(each.key)];
    const rows = {
      players: scene.players.map(name),
      balls: scene.balls.map(name),
      targets: [["", this.editor.word("point")], ...scene.players.map(name), ...scene.goals.map(name)],
      holders: [["", this.editor.word("nobody")], ...scene.players.map(name)],
      zones: [["", this.editor.word("nozone")], ...scene.zones.map(name)],
      anyone: [["", this.editor.word("anyone")], ...scene.players.map(name)],
      anygate: [["", this.editor.word("anygate")], ...scene.gates.map(name)],
      onlyzones: scene.zones.map(name),
      anygoal: [["", this.editor.word("anygoal")], ...scene.goals.map(name)],
      anystep: [["", this.editor.word("anystep")], ...scene.steps.map((each, index) => [each.key, this.editor.word("step", { n: index + 1 })])],
    };
    for (const select of document.querySelectorAll("[data-choices]")) offer(select, rows[select.dataset.choices]);
  }

  #things(scene) {
    const rows = everything(scene).map(({ key, kind, item }) => {
      const [x, y] = spotOf(scene, { kind, item });
      const made = button(`${this.editor.name(key)} · ${say(x)}, ${say(y)} m`, "", { key });
      made.setAttribute("aria-pressed", String(this.editor.chosen?.key === key));
      return wrap(made);
    });
    keepFocus(one("things"), rows);
  }

  #moves(scene, index) {
    const step = scene.steps[index];
    one("step-title").textContent = this.editor.word("stepsay", { n: index + 1, from: step.start_s, until: step.end_s });
    this.fields.step.show({ title: step.title ?? "", seconds: round(step.end_s - step.start_s, 1) });
    const rows = step.moves.map((move, number) => {
      const made = button(this.#say(scene, move), "", { move: number });
      made.setAttribute("aria-pressed", String(this.editor.chosen?.move === number));
      return wrap(made);
    });
    keepFocus(one("moves"), rows);
  }

  #say(scene, move) {
    const word = (...given) => this.editor.word(...given);
    const name = this.editor.name(move.kind === "ball" ? move.ball : move.who);
    const to = move.to ? word("toname", { name: this.editor.name(move.to) }) : word("topoint", { x: say(move.to_x_m), y: say(move.to_y_m) });
    return `${word(move.kind, { name })} ${to} · ${word("seconds", { from: move.start_s, until: move.end_s })}`;
  }

  #chosen(scene, view) {
    const { chosen } = this.editor;
    for (const kind of Object.keys(this.fields)) if (kind !== "step") this.fields[kind].hide();
    const move = view && chosen?.move !== undefined ? scene.steps[view - 1].moves[chosen.move] : null;
    const thing = chosen?.key ? find(scene, chosen.key) : null;
    one("chosen").hidden = !move && !thing;
    if (move) {
      one("chosen-title").textContent = this.#say(scene, move);
      const when = ["start_s", "end_s", ...(move.kind === "ball" ? ["ball", "to"] : ["who"]), ...(move.kind === "run_with_ball" ? ["ball"] : []), ...(move.to ? [] : ["to_x_m", "to_y_m"])];
      this.fields.move.show({ ...move, when });
    } else if (thing) {
      one("chosen-title").textContent = this.editor.name(chosen.key);
      const kind = thing.kind;
      this.fields[kind].show(thing.item);
    }
  }

  #whose(scene) {
    one("whose").textContent = this.editor.word(this.editor.byHand ? "byhand" : "generated");
    const { length_m, width_m } = this.editor.grid;
    one("to-grid").hidden = scene.length_m === length_m && scene.width_m === width_m;
    one("to-grid").textContent = this.editor.word("togrid", { length: length_m, width: width_m });
  }

  #changed(kind, name, value) {
    const { chosen, view } = this.editor;
    if (kind === "step") {
      this.editor.change((scene) => {
        const step = scene.steps[view - 1];
        if (name === "title") step.title = value;
        else endStep(scene, view - 1, step.start_s + value);
      });
    } else if (kind === "move") this.editor.change((scene) => setMove(scene, view - 1, chosen.move, name, value));
    else this.editor.change((scene) => setThing(scene, chosen.key, name, value));
  }

  #step(what) {
    const { view } = this.editor;
    if (what === "away") {
      this.editor.change((scene) => takeStep(scene, view - 1));
      this.editor.look(view - 1);
      return;
    }
    const other = view - 1 + (what === "earlier" ? -1 : 1);
    if (!this.editor.scene.steps[other]) return;
    this.editor.change((scene) => { swapSteps(scene, view - 1, other); });
    this.editor.look(other + 1);
  }

  // The server's answer: reasons beside what they are about, and the lanes of the step.
  checks(answer, view) {
    const rows = answer.reasons.map((reason) => {
      const row = element("li", "reason");
      row.dataset.level = reason.level;
      row.append(element("b", "", this.editor.word(reason.level)), element("span", "", reason.text));
      const key = reason.items.find((each) => find(this.editor.scene, each));
      if (key) row.append(button(this.editor.word("show"), "", { key }, "small-button"));
      return row;
    });
    keepFocus(one("reasons"), rows);
    one("nothing").hidden = rows.length > 0;
    const step = view ? answer.steps[view - 1] : null;
    one("lanes").hidden = !step?.lanes.length;
    if (!step?.lanes.length) return;
    one("lanes-words").textContent = this.editor.word("lanes", { name: step.on_ball, n: step.open, all: step.lanes.length });
    const said = (lane) => this.editor.word(lane.open ? "open" : "shut", { name: lane.to, s: lane.margin || "∞", who: lane.cut_by, awaits: lane.awaits });
    one("lanes-list").replaceChildren(...step.lanes.map((lane) => element("li", "", said(lane))));
  }
}

function setMove(scene, index, number, name, value) {
  const move = scene.steps[index].moves[number];
  if (name === "start_s") timeMove(scene, index, move, value, move.end_s + value - move.start_s);
  else if (name === "end_s") timeMove(scene, index, move, move.start_s, value);
  else if (name === "to") aim(move, value || null, value ? null : targetOf(scene, move, stateAt(scene, move.end_s).players));
  else move[name] = value;
}

function setThing(scene, key, name, value) {
  const { kind, item } = find(scene, key);
  if (["player", COACH].includes(kind) && (name === "x_m" || name === "y_m")) {
    place(scene, key, name === "x_m" ? value : item.x_m, name === "y_m" ? value : item.y_m);
  } else if (kind === "ball" && name === "at") {
    const [x_m, y_m] = spotOf(scene, { kind, item });
    Object.assign(item, value ? { at: value, x_m: 0, y_m: 0 } : { at: null, x_m, y_m });
  } else if (kind === "ball" && name !== "count") Object.assign(item, { at: null, [name]: value });
  else if (kind === "goal" && name === "edge" && (item.edge === "free") !== (value === "free")) {
    Object.assign(item, { edge: value, along_m: (["left", "right"].includes(value) ? scene.width_m : scene.length_m) / 2, x_m: scene.length_m / 2, y_m: scene.width_m / 2 });
  } else item[name] = name === "zone" ? value || null : value;
  if (kind === "player" && name === "place") item.edge = value === "outside" ? nearestEdge(scene, item) : null;
}

function nearestEdge(scene, { x_m, y_m }) {
  const gaps = { left: x_m, right: scene.length_m - x_m, bottom: y_m, top: scene.width_m - y_m };
  return Object.entries(gaps).sort((a, b) => a[1] - b[1])[0][0];
}

// A number as people write it.
export const say = (value) => String(round(value, 1)).replace("-", "−");

export function element(name, cls, text = "") {
  const made = document.createElement(name);
  if (cls) made.className = cls;
  made.textContent = text;
  return made;
}

function button(text, spoken, data, cls = "") {
  const made = element("button", cls, text);
  made.type = "button";
  if (spoken) made.setAttribute("aria-label", spoken);
  Object.assign(made.dataset, data);
  return made;
}

function wrap(child) {
  const row = document.createElement("li");
  row.append(child);
  return row;
}

// New rows in place of old ones; who stood on a row with the keyboard still stands there.
function keepFocus(holder, rows) {
  const at = holder.contains(document.activeElement) ? [...holder.querySelectorAll("button")].indexOf(document.activeElement) : -1;
  holder.replaceChildren(...rows);
  if (at >= 0) [...holder.querySelectorAll("button")].at(Math.min(at, rows.length - 1))?.focus();
}
