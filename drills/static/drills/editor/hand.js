// What a finger, a mouse or a key does on the plan: put down, drag, draw a move, choose, take away.

import { addMove, aim, COACH, cornerOf, CORNERS, everything, find, next, place, putDown, round, sized, spotOf, stateAt, targetOf } from "./model.js";

const far = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const whole = (spot) => spot.map((each) => round(each, 0));
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export class Hand {
  constructor(editor) {
    this.editor = editor;
    this.armed = null;
  }

  arm(what) {
    this.armed = what;
    this.editor.arming(what);
  }

  // Put the armed thing down; the next tap puts down another one of it.
  put(what, spot) {
    const at = what.kind === "ball" ? spot : whole(spot);
    const key = this.editor.change((scene) => putDown(scene, what, at));
    this.editor.choose({ key });
    if (what.kind === COACH) this.arm(null);
  }

  // --- what lies under a point; `type` is thing, end (of the chosen move) or corner (of the chosen zone)

  hit(at, reach) {
    const { scene, view, chosen } = this.editor;
    const players = stateAt(scene, view ? scene.steps[view - 1].start_s : 0).players;
    if (view && chosen?.move !== undefined) {
      const move = scene.steps[view - 1].moves[chosen.move];
      const end = move && targetOf(scene, move, stateAt(scene, move.end_s).players);
      if (end && far(end, at) <= reach) return { type: "end", move: chosen.move };
    }
    const zone = view === 0 ? this.#chosenZone() : null;
    const corner = zone && CORNERS.find((each) => far(cornerOf(zone, each), at) <= reach);
    if (corner) return { type: "corner", key: chosen.key, corner };
    const near = everything(scene).map((row) => ({ ...row, gap: this.#gap(row, at, players, reach) })).filter((row) => row.gap <= reach);
    const best = near.sort((a, b) => a.gap - b.gap)[0];
    return best ? { type: "thing", key: best.key, kind: best.kind } : null;
  }

  #chosenZone() {
    const row = this.editor.chosen?.key ? find(this.editor.scene, this.editor.chosen.key) : null;
    return row?.kind === "zone" ? row.item : null;
  }

  #gap(row, at, players, reach) {
    const { scene, stage } = this.editor;
    const { kind, item } = row;
    if (kind === "zone") {
      const inside = at[0] >= item.x_m && at[0] <= item.x_m + item.length_m && at[1] >= item.y_m && at[1] <= item.y_m + item.width_m;
      return inside ? reach : Infinity; // whatever stands in a zone comes first
    }
    if (kind === "player") return far(players[row.key], at);
    if (kind === "ball" && item.at) {
      const foot = stage.sheet.radius_u / stage.sheet.unit_per_m;
      const [x, y] = spotOf(scene, row, players);
      return far([x + foot * 0.95, y - foot * 0.8], at) + foot * 0.3;
    }
    const gap = far(spotOf(scene, row, players), at);
    return kind === "goal" ? Math.max(0, gap - (item.width_m ?? 2) / 2) : gap;
  }

  // --- pointer

  tap(thing, at) {
    const { view } = this.editor;
    if (this.armed && view === 0) this.put(this.armed, at);
    else if (thing?.type === "thing") this.editor.choose({ key: thing.key });
    else if (!thing) this.editor.choose(null);
  }

  move(thing, at, from) {
    const { scene, stage, view } = this.editor;
    if (!thing) return;
    if (thing.type === "corner") {
      const zone = sized(find(scene, thing.key).item, thing.corner, whole(at));
      stage.mark(null, null, zone);
      this.editor.sizing(thing.key, zone);
    } else if (view === 0) {
      const row = find(scene, thing.key);
      const start = spotOf(scene, row);
      const spot = this.#snapped(row, start, at, from);
      const along = scene.balls.filter((ball) => ball.at === thing.key).map((ball) => ball.key);
      stage.carry([thing.key, ...along], start, spot);
      stage.mark(spot);
      this.editor.telling(thing.key, spot);
    } else if (view && thing.type === "end") {
      const move = scene.steps[view - 1].moves[thing.move];
      stage.mark(null, [this.#begin(move), at]);
    } else if (view) {
      const who = this.#who(thing);
      if (who) stage.mark(null, [next(scene, view - 1, who).spot, at]);
    }
  }

  drop(thing, at, reach, from) {
    const { scene, view } = this.editor;
    if (!thing && this.armed && view === 0) this.put(this.armed, at);
    else if (!thing) this.editor.redraw();
    else if (thing.type === "corner") {
      this.editor.change((draft) => { const { item } = find(draft, thing.key); Object.assign(item, sized(item, thing.corner, whole(at))); });
      this.editor.sizing(thing.key, find(this.editor.scene, thing.key).item);
    } else if (view === 0) {
      const row = find(scene, thing.key);
      const start = spotOf(scene, row);
      const [x, y] = row.kind === "ball" ? [start[0] + at[0] - from[0], start[1] + at[1] - from[1]] : this.#snapped(row, start, at, from);
      this.editor.change((draft) => place(draft, thing.key, x, y));
      this.editor.choose({ key: thing.key });
    } else if (view) this.#stroke(thing, at, reach);
  }

  cancel() { this.editor.ask(); }

  #snapped(row, start, at, from) {
    const spot = [start[0] + at[0] - from[0], start[1] + at[1] - from[1]];
    if (row.kind !== "zone") return whole(spot);
    const half = [row.item.length_m / 2, row.item.width_m / 2];
    return spot.map((each, n) => round(each - half[n], 0) + half[n]);
  }

  #who(thing) {
    const { scene, view } = this.editor;
    const row = find(scene, thing.key);
    if (row?.kind === "player") return thing.key;
    return row?.kind === "ball" ? stateAt(scene, scene.steps[view - 1].start_s).balls[thing.key].holder : null;
  }

  #begin(move) {
    const { scene } = this.editor;
    const state = stateAt(scene, move.start_s + 1e-6);
    return move.kind === "ball" ? stateAt(scene, move.start_s).balls[move.ball].spot : state.players[move.who];
  }

  #stroke(thing, at, reach) {
    const { scene, view } = this.editor;
    const kind = thing.type === "end" ? scene.steps[view - 1].moves[thing.move].kind : this.editor.stroke;
    const who = thing.type === "end" ? null : this.#who(thing);
    const to = kind === "ball" ? this.#receiver(at, reach, who) : null;
    if (thing.type === "end") {
      this.editor.change((draft) => aim(draft.steps[view - 1].moves[thing.move], to, whole(at)));
    } else if (who) this.add({ kind, who, to, spot: whole(at) });
    else this.editor.redraw();
  }

  // Add a move and choose it; say why when there can't be one.
  add(wanted) {
    const { view, pace } = this.editor;
    const number = this.editor.change((draft) => addMove(draft, view - 1, wanted, pace));
    if (number === null) {
      this.editor.redraw();
      this.editor.tell(this.editor.word("noball", { name: this.editor.name(wanted.who) }));
      return false;
    }
    this.editor.choose({ move: number });
    return true;
  }

  // Whom a ball is played to: where they stand at first, or where they will be; else a goal.
  #receiver(at, reach, who) {
    const { scene, view } = this.editor;
    const step = scene.steps[view - 1];
    const [first, last] = [stateAt(scene, step.start_s).players, stateAt(scene, step.end_s + 1e-6).players];
    const rows = scene.players.filter((each) => each.key !== who).map((each) => [Math.min(far(first[each.key], at), far(last[each.key], at)), each.key]);
    const goals = scene.goals.map((goal) => [this.#gap({ kind: "goal", item: goal, key: goal.key }, at, first, reach), goal.key]);
    const best = [...rows, ...goals].filter(([gap]) => gap <= reach).sort((a, b) => a[0] - b[0])[0];
    return best ? best[1] : null;
  }

  // --- keys

  key(event) {
    const by = ARROWS[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (by) this.#nudge(by.map((each) => each * (event.shiftKey ? 0.1 : 1)));
    else if (event.key === "." || event.key === ",") this.#turn(event.key === "." ? 1 : -1);
    else if (event.key === "Delete" || event.key === "Backspace") this.editor.takeAway();
    else if (event.key === "Escape") { this.arm(null); this.editor.choose(null); } else return;
    event.preventDefault();
  }

  #nudge([dx, dy]) {
    const { scene, view, chosen } = this.editor;
    if (view === 0 && chosen?.key) {
      const [x, y] = spotOf(scene, find(scene, chosen.key));
      this.editor.change((draft) => place(draft, chosen.key, round(x + dx), round(y + dy)));
      this.editor.telling(chosen.key, spotOf(this.editor.scene, find(this.editor.scene, chosen.key)));
    } else if (view && chosen?.move !== undefined) {
      const move = scene.steps[view - 1].moves[chosen.move];
      const [x, y] = targetOf(scene, move, stateAt(scene, move.end_s).players);
      this.editor.change((draft) => aim(draft.steps[view - 1].moves[chosen.move], null, [x + dx, y + dy]));
    }
  }

  #turn(by) {
    const { scene, view, chosen } = this.editor;
    const moves = view ? scene.steps[view - 1].moves.map((_, move) => ({ move })) : [];
    const all = [...moves, ...everything(scene).map(({ key }) => ({ key }))];
    if (!all.length) return;
    const at = all.findIndex((each) => (chosen?.key ? each.key === chosen.key : chosen && each.move === chosen.move));
    this.editor.choose(all.at((at + by + (at < 0 && by < 0 ? 1 : 0)) % all.length));
  }
}
