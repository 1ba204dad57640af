// What can be done to a scene. A scene is plain data as the server reads it: metres from the grid's lower-left corner,
// seconds on the scene's own clock. Each function changes the scene it is given; the caller hands in a copy.

export const LISTS = ["zones", "goals", "gates", "cones", "players", "balls"];
export const COACH = "coach";
const KINDS = { zones: "zone", goals: "goal", gates: "gate", cones: "cone", players: "player", balls: "ball" };
const LEAST_S = 0.4;
const EDGE_M = 2; // a goal that is dropped nearer to an edge than this stands on it
const FOOT_M = 1.2; // a ball that is dropped nearer to somebody than this is theirs

export const round = (value, digits = 2) => Number(Number(value).toFixed(digits));
const far = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

export function find(scene, key) {
  if (key === COACH) return scene.coach ? { list: COACH, kind: COACH, item: scene.coach } : null;
  for (const list of LISTS) {
    const item = scene[list].find((each) => each.key === key);
    if (item) return { list, kind: KINDS[list], item };
  }
  return null;
}

export function everything(scene) {
  const rows = [...LISTS].reverse().flatMap((list) => scene[list].map((item) => ({ list, kind: KINDS[list], item, key: item.key })));
  return scene.coach ? [...rows, { list: COACH, kind: COACH, item: scene.coach, key: COACH }] : rows;
}

// Who stands where and which ball is whose, at a time.
export function stateAt(scene, time) {
  const players = Object.fromEntries(scene.players.map((each) => [each.key, [each.x_m, each.y_m]]));
  const balls = Object.fromEntries(scene.balls.map((each) => [each.key, { spot: [each.x_m ?? 0, each.y_m ?? 0], holder: each.at ?? null }]));
  const moves = scene.steps.flatMap((step) => step.moves ?? []).filter((move) => move.start_s < time);
  for (const move of moves.sort((a, b) => a.start_s - b.start_s)) {
    const share = Math.min(1, (time - move.start_s) / (move.end_s - move.start_s));
    if (move.kind === "ball") Object.assign(balls[move.ball], share < 1 ? { holder: null } : landed(scene, move, players));
    else players[move.who] = between(players[move.who], [move.to_x_m, move.to_y_m], share);
    if (move.kind === "run_with_ball") balls[move.ball].holder = move.who;
  }
  for (const ball of Object.values(balls)) if (ball.holder) ball.spot = players[ball.holder];
  return { players, balls };
}

const between = (a, b, share) => [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];

function landed(scene, move, players) {
  if (move.to && players[move.to]) return { holder: move.to };
  return { holder: null, spot: targetOf(scene, move, players) };
}

export function targetOf(scene, move, players) {
  if (!move.to) return [move.to_x_m, move.to_y_m];
  return players[move.to] ?? spotOf(scene, find(scene, move.to));
}

// Where a thing stands: the middle of a zone or a goal, the holder's place for a ball.
export function spotOf(scene, { kind, item }, players = null) {
  if (kind === "goal") return goalMiddle(scene, item);
  if (kind === "zone") return [item.x_m + item.length_m / 2, item.y_m + item.width_m / 2];
  if (kind === "ball" && item.at) {
    const holder = scene.players.find((each) => each.key === item.at);
    return players?.[item.at] ?? [holder.x_m, holder.y_m];
  }
  return [item.x_m ?? 0, item.y_m ?? 0];
}

export function goalMiddle(scene, goal) {
  const along = goal.along_m ?? 0;
  const edges = { left: [0, along], right: [scene.length_m, along], bottom: [along, 0], top: [along, scene.width_m] };
  return edges[goal.edge] ?? [goal.x_m ?? 0, goal.y_m ?? 0];
}

export function newKey(scene, stem) {
  const taken = new Set([...LISTS.flatMap((list) => scene[list].map((each) => each.key)), ...scene.steps.map((each) => each.key)]);
  let number = 1;
  while (taken.has(`${stem}${number}`)) number += 1;
  return `${stem}${number}`;
}

// Put a new thing down; `what` is {kind, side?, bib?}. Returns its key.
export function putDown(scene, what, [x, y]) {
  if (what.kind === COACH) {
    scene.coach = { x_m: x, y_m: y };
    return COACH;
  }
  const list = ["keeper", "adult"].includes(what.kind) ? "players" : Object.keys(KINDS).find((each) => KINDS[each] === what.kind);
  const stem = what.kind === "player" ? (what.side === "neutral" ? "n" : what.side.toLowerCase()) : what.kind;
  const item = { key: newKey(scene, stem), x_m: x, y_m: y, ...fresh(scene, what) };
  scene[list].push(item);
  place(scene, item.key, x, y);
  return item.key;
}

function fresh(scene, what) {
  if (what.kind === "goal") return { edge: "free", width_m: Math.min(3, round(scene.width_m / 3)), along_m: 0 };
  if (what.kind === "gate") return { width_m: 2, across: false };
  if (what.kind === "zone") return { length_m: round(scene.length_m / 3, 0) || 1, width_m: round(scene.width_m / 3, 0) || 1, title: "" };
  if (what.kind === "keeper") return { side: what.side ?? "A", kind: "keeper", place: "goal", bib: what.bib, label: "" };
  if (what.kind === "adult") return { side: "neutral", kind: "adult", role: "server" };
  if (what.kind !== "player") return {};
  const numbers = scene.players.filter((each) => (each.side ?? "A") === what.side).map((each) => Number(each.label) || 0);
  return { side: what.side, bib: what.bib, label: String(Math.max(0, ...numbers) + 1) };
}

// Let a thing stand somewhere else; what that means depends on the thing.
export function place(scene, key, x, y) {
  const { kind, item } = find(scene, key);
  x = Math.max(-200, Math.min(200, round(x)));
  y = Math.max(-200, Math.min(200, round(y)));
  if (kind === "goal") placeGoal(scene, item, x, y);
  else if (kind === "zone") Object.assign(item, { x_m: round(x - item.length_m / 2), y_m: round(y - item.width_m / 2) });
  else if (kind === "ball") placeBall(scene, item, x, y);
  else Object.assign(item, { x_m: x, y_m: y });
  if (kind === "player") stand(scene, item);
}

// --- a zone's corners, as [right, top]: 0 or 1 each

export const CORNERS = [[0, 0], [1, 0], [0, 1], [1, 1]];
export const cornerOf = (zone, [right, top]) => [zone.x_m + right * zone.length_m, zone.y_m + top * zone.width_m];

// The zone with one corner elsewhere, the opposite one where it was; never less than a metre wide.
export function sized(zone, corner, spot) {
  const away = [1 - corner[0], 1 - corner[1]];
  const still = cornerOf(zone, away);
  const [x, y] = spot.map((each, n) => (corner[n] ? Math.max(each, still[n] + 1) : Math.min(each, still[n] - 1)));
  const [low_x, low_y] = [Math.min(x, still[0]), Math.min(y, still[1])];
  return { x_m: round(low_x), y_m: round(low_y), length_m: round(Math.abs(x - still[0])), width_m: round(Math.abs(y - still[1])) };
}

function placeGoal(scene, goal, x, y) {
  const gaps = { left: Math.abs(x), right: Math.abs(x - scene.length_m), bottom: Math.abs(y), top: Math.abs(y - scene.width_m) };
  const [edge, gap] = Object.entries(gaps).sort((a, b) => a[1] - b[1])[0];
  const upright = edge === "left" || edge === "right";
  if (gap <= EDGE_M) {
    const most = (upright ? scene.width_m : scene.length_m) - goal.width_m / 2;
    Object.assign(goal, { edge, along_m: round(Math.max(goal.width_m / 2, Math.min(most, upright ? y : x))), x_m: 0, y_m: 0 });
  } else {
    Object.assign(goal, { edge: "free", x_m: x, y_m: y, faces: goal.edge === "free" && goal.faces ? goal.faces : x < scene.length_m / 2 ? "right" : "left" });
  }
}

function placeBall(scene, ball, x, y) {
  const near = scene.players.map((each) => [far([each.x_m, each.y_m], [x, y]), each.key]).sort((a, b) => a[0] - b[0])[0];
  if (near && near[0] <= FOOT_M && (ball.count ?? 1) === 1) Object.assign(ball, { at: near[1], x_m: 0, y_m: 0 });
  else Object.assign(ball, { at: null, x_m: x, y_m: y });
}

// Who steps over the line plays outside from there, and the other way round.
function stand(scene, player) {
  if (!["inside", "outside"].includes(player.place ?? "inside") || player.kind === "adult") return;
  const gaps = { left: player.x_m, right: scene.length_m - player.x_m, bottom: player.y_m, top: scene.width_m - player.y_m };
  const [edge, gap] = Object.entries(gaps).sort((a, b) => a[1] - b[1])[0];
  if (gap < 0 || (gap === 0 && player.place === "outside")) Object.assign(player, { place: "outside", edge });
  else Object.assign(player, { place: "inside", edge: null });
}

// Take a thing away, with every move that needs it.
export function takeAway(scene, key) {
  if (key === COACH) {
    scene.coach = null;
    return;
  }
  for (const list of LISTS) scene[list] = scene[list].filter((each) => each.key !== key);
  for (const ball of scene.balls) if (ball.at === key) Object.assign(ball, { at: null, x_m: 0, y_m: 0 });
  for (const player of scene.players) if (player.zone === key) player.zone = null;
  for (const step of scene.steps) step.moves = (step.moves ?? []).filter((move) => ![move.who, move.ball, move.to].includes(key));
  scene.claims = (scene.claims ?? []).filter((claim) => ![claim.who, claim.to].includes(key));
}

// --- moves and steps

const lastEnd = (moves, from) => Math.max(from, ...moves.map((move) => move.end_s));

// The ball somebody has once all that is drawn in this step has happened, and from when.
export function ballOf(scene, index, who) {
  const step = scene.steps[index];
  for (const ball of scene.balls) {
    const ready = lastEnd(step.moves.filter((move) => move.ball === ball.key), step.start_s);
    if (stateAt(scene, ready + 1e-6).balls[ball.key].holder === who) return { ball: ball.key, ready };
  }
  return null;
}

// From where somebody goes next in a step, and from when.
export function next(scene, index, who) {
  const step = scene.steps[index];
  const ready = lastEnd(step.moves.filter((move) => move.who === who), step.start_s);
  return { ready, spot: stateAt(scene, ready + 1e-6).players[who] };
}

// Add a move that starts as soon as it can and takes as long as its length asks for. Null: they have no ball.
export function addMove(scene, index, { kind, who, to = null, spot = null }, pace) {
  const step = scene.steps[index];
  step.moves ??= [];
  const held = kind === "run" ? null : ballOf(scene, index, who);
  if (kind !== "run" && !held) return null;
  const mine = next(scene, index, who);
  const start = round(Math.max(kind === "run" ? step.start_s : held.ready, kind === "ball" ? step.start_s : mine.ready), 1);
  const move = { kind, start_s: start, end_s: start };
  if (kind !== "ball") move.who = who;
  if (held) move.ball = held.ball;
  aim(move, to, spot);
  const from = kind === "ball" ? stateAt(scene, start + 1e-6).players[who] : mine.spot;
  const players = stateAt(scene, start + 1e-6).players;
  move.end_s = round(start + Math.max(LEAST_S, far(from, targetOf(scene, move, players)) / speed(kind, pace)), 1);
  const empty = step.moves.length === 0;
  step.moves.push(move);
  if (empty || move.end_s > step.end_s) endStep(scene, index, move.end_s);
  return step.moves.length - 1;
}

export function aim(move, to, spot) {
  if (move.kind === "ball" && to) Object.assign(move, { to, to_x_m: null, to_y_m: null });
  else Object.assign(move, { to_x_m: round(spot[0]), to_y_m: round(spot[1]) }, move.kind === "ball" ? { to: null } : {});
}

const speed = (kind, pace) => ({ ball: pace.ball, run: pace.run * 0.8, run_with_ball: pace.run * 0.65 })[kind];

// Change the times of a move; the step grows with it.
export function timeMove(scene, index, move, start, end) {
  const step = scene.steps[index];
  move.start_s = round(Math.max(step.start_s, start), 1);
  move.end_s = round(Math.max(move.start_s + 0.1, end), 1);
  if (move.end_s > step.end_s) endStep(scene, index, move.end_s);
}

export function addStep(scene, seconds = 2) {
  const start = scene.steps.at(-1)?.end_s ?? 0;
  scene.steps.push({ key: newKey(scene, "step"), title: "", start_s: start, end_s: round(start + seconds, 1), moves: [] });
  return scene.steps.length;
}

// A step ends at a time, but not before its moves do; later steps shift.
export function endStep(scene, index, end) {
  const step = scene.steps[index];
  const wanted = round(Math.max(lastEnd(step.moves ?? [], step.start_s + 0.1), end), 1);
  const by = round(wanted - step.end_s, 1);
  step.end_s = wanted;
  for (const later of scene.steps.slice(index + 1)) shift(later, by);
}

export function swapSteps(scene, index, other) {
  const steps = scene.steps;
  if (!steps[index] || !steps[other]) return index;
  [steps[index], steps[other]] = [steps[other], steps[index]];
  closeUp(scene);
  return other;
}

export function takeStep(scene, index) {
  const [gone] = scene.steps.splice(index, 1);
  scene.claims = (scene.claims ?? []).filter((claim) => claim.step !== gone.key);
  closeUp(scene);
}

function closeUp(scene) {
  let clock = 0;
  for (const step of scene.steps) {
    shift(step, round(clock - step.start_s, 1));
    clock = step.end_s;
  }
}

function shift(step, by) {
  for (const thing of [step, ...(step.moves ?? [])]) {
    thing.start_s = round(thing.start_s + by, 1);
    thing.end_s = round(thing.end_s + by, 1);
  }
}
