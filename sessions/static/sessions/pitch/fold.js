// What the events leave behind, folded as the server folds them: sorted by (time, id), so that every phone shows the same.

const PLAN = new Set(["easier", "harder", "fit_accepted", "minute_more", "bout_dropped", "part_swapped"]);
const SETTLED = new Set(["delivered", "shortened", "cancelled", "moved"]);
const ABOUT_PLAYERS = new Set(["arrived", "late", "left", "guest", "limited", "watching", "out", "absent"]);

// An earlier word that is true beside the state that counts.
const BOTH_TRUE = new Set(["here left", "late left", "absent late"]);

const untouched = () => ({
  started: null, ended: null, held: 0, heldSince: null, extras: [], rung: null, setup: null, skipped: false, dropped: 0, swap: null,
  again: null, last: null, others: new Map(),
});

export function fold(events, partKeys) {
  const state = {
    register: new Map(), guests: new Set(), trialists: new Map(), teams: new Map(), parts: new Map(), out: new Map(), collected: null,
    effort: null, status: "planned", minutes: null, done: null, heads: null, heat: null, thunder: null, undone: new Set(),
    spoken: new Map(), taps: 0, confirmed: null, nextTime: null,
  };
  for (const key of partKeys) state.parts.set(key, untouched());
  const unique = new Map(events.map((event) => [event.id, event]));
  const sorted = [...unique.values()].sort((a, b) => a.ms - b.ms || (a.id < b.id ? -1 : 1));
  state.undone = undone(sorted);
  for (const event of sorted) if (!state.undone.has(event.id)) take(state, event);
  close(state);
  settle(state);
  return state;
}

// What nobody ended ran until the session was said to be over.
function close(state) {
  const parts = [...state.parts.values()];
  if (state.done !== null) {
    for (const part of parts) if (part.started !== null && part.ended === null) end(part, Math.max(state.done, part.started));
  }
  if (state.status === "planned" && parts.some((part) => part.started !== null)) state.status = "running";
}

// The latest word first: what undoes is void where a later one undoes it.
function undone(sorted) {
  const found = new Set();
  for (const event of sorted.toReversed()) if (event.kind === "undone" && !found.has(event.id)) found.add(event.event);
  return new Set(sorted.filter((event) => found.has(event.id)).map((event) => event.id));
}

function take(state, event) {
  if (ABOUT_PLAYERS.has(event.kind)) return register(state, event);
  if (event.kind === "teams_set") return state.teams.set(event.part ?? event.teams.length, event);
  if (event.part) {
    const part = state.parts.get(event.part);
    if (part) run(state, part, event);
    return;
  }
  if (event.kind === "effort" && !event.player) state.effort = event.cr10;
  if (event.kind === "trialist") {
    tapped(state);
    trialist(state.trialists, event);
  }
  if (event.kind === "heat") state.heat = { ms: event.ms, temperature: event.temperature_c, humidity: event.humidity_pct };
  if (event.kind === "thunder") state.thunder = event.ms;
  if (event.kind === "heads") state.heads = event.count;
  if (event.kind === "collected") state.collected = event.ms;
  if (event.kind === "confirmed") confirm(state, event);
  if (event.kind === "next_time") state.nextTime = { id: event.id, ms: event.ms, text: event.text };
  if (SETTLED.has(event.kind)) Object.assign(state, { status: event.kind, minutes: event.minutes ?? null, done: event.ms });
  if (event.kind === "as_planned") Object.assign(state, { status: "planned", minutes: null, done: null });
}

function run(state, part, event) {
  if (event.kind === "part_started" || event.kind === "next_part") start(state, part, event.ms);
  if (event.kind === "part_ended" && part.ended === null) end(part, event.ms);
  if (event.kind === "part_skipped") skip(part, event.ms);
  if (event.kind === "again") part.again = event.answer;
  if (event.kind === "bout_held") part.heldSince ??= event.ms;
  if (event.kind === "bout_resumed") resume(part, event.ms);
  if (PLAN.has(event.kind)) change(part, event);
}

function register(state, event) {
  const line = state.register.get(event.player) ?? { state: "absent", taking: "full", limits: [], most: null };
  const here = ["here", "late"].includes(line.state) ? line.state : "here";
  state.register.set(event.player, line);
  if (event.kind === "guest") state.guests.add(event.player);
  if (event.kind === "arrived" || event.kind === "guest") line.state = "here";
  if (["late", "left", "absent"].includes(event.kind)) line.state = event.kind;
  if (event.kind === "out") state.out.set(event.player, event.id);
  if (event.kind === "watching" || event.kind === "out") Object.assign(line, { state: here, taking: "watching" });
  if (event.kind === "limited") {
    const limits = [...new Set(event.limits ?? [])].sort();
    const most = event.at_most_min ?? null;
    Object.assign(line, { state: here, limits, most, taking: how(limits, most) });
  }
  tapped(state);
  speak(state.spoken, event);
}

const how = (limits, most) => (limits.length || most ? "limited" : "full");

// ---- the registers of several phones: the rule stands in the server's fold, in register.py ----------------------------

function tapped(state) {
  state.taps += 1;
  state.confirmed = null;
}

// Each phone's last word about a player, the latest last: over those of other phones that it knew of, beside the rest.
function speak(spoken, { id, kind, player, ms, over = [], device = "", by = "", limits = [], at_most_min: most = null }) {
  const kept = [...(spoken.get(player) ?? [])].filter((word) => word.device !== device && !over.includes(word.id));
  const word = { device, by, id, ms, state: ["late", "left", "absent"].includes(kind) ? kind : "here", taking: null, limits: [], most: null };
  if (kind === "watching" || kind === "out") word.taking = "watching";
  if (kind === "limited") {
    const named = [...new Set(limits)].sort();
    Object.assign(word, { limits: named, most, taking: how(named, most) });
  }
  spoken.set(player, [...kept, word]);
}

function confirm(state, { taps = null, ms }) {
  if (taps !== null && taps !== state.taps) return;
  state.confirmed = ms;
  state.spoken.clear();
}

// What other phones say otherwise stands beside what counts.
function settle(state) {
  for (const [player, said] of state.spoken) {
    const line = state.register.get(player);
    const others = said.slice(0, -1).filter((word) => !agrees(word, line));
    if (others.length) Object.assign(line, { others, said: said.at(-1) });
  }
}

function agrees(word, line) {
  if (word.state !== line.state && !BOTH_TRUE.has(`${word.state} ${line.state}`)) return false;
  if (word.taking === null || word.taking !== line.taking) return word.taking === null;
  return word.taking !== "limited" || (word.most === line.most && word.limits.join() === line.limits.join());
}

// By number, the event by which each joined. Who asks for a number that somebody has gets the lowest free one: nobody is lost.
function trialist(there, { id, number, here, joined }) {
  if (here === false) {
    for (const [each, by] of there) if (joined ? by === joined : each === number) there.delete(each);
    return;
  }
  let free = number;
  if (there.has(number)) for (free = 1; there.has(free);) free += 1;
  there.set(free, id);
}

function start(state, part, ms) {
  for (const other of state.parts.values()) {
    if (other !== part && other.started !== null && other.ended === null) end(other, ms);
  }
  part.started ??= ms;
  part.ended = null;
  part.skipped = false;
}

function end(part, ms) {
  resume(part, ms);
  part.ended = ms;
}

function skip(part, ms) {
  if (part.started !== null && part.ended === null) end(part, ms);
  part.skipped = part.started === null;
}

function resume(part, ms) {
  if (part.heldSince === null) return;
  part.held += ms - part.heldSince;
  part.heldSince = null;
}

function change(part, event) {
  if (event.kind === "minute_more") part.extras.push({ ms: event.ms, held: part.held, heldSince: part.heldSince, s: 60 * (event.minutes ?? 1) });
  else if (event.kind === "bout_dropped") part.dropped += event.bouts ?? 1;
  else if (event.kind === "part_swapped") Object.assign(part, { swap: { drill: event.drill, revision: event.revision }, rung: event.rung ?? "", setup: null, last: null, others: new Map() });
  else if (event.kind === "fit_accepted") accept(part, event);
  else Object.assign(part, { rung: event.to, setup: null, others: new Map() });
}

function accept(part, event) {
  part.rung = event.rung ?? part.rung;
  if (event.station) part.others.set(event.station, event.setup);
  else Object.assign(part, { setup: event.setup, last: { setup: event.setup, rung: part.rung } });
}

// The part that runs: the last one started, else none.
export function running(state) {
  let found = null;
  for (const [key, part] of state.parts) {
    if (part.started !== null && part.ended === null) found = key;
  }
  return found;
}

// Whether somebody of the register is there now and takes part.
export const takesPart = (line) => ["here", "late"].includes(line?.state) && line.taking !== "watching";

// How many are there and take part, those who try out among them: what a drill is set up for.
export function playing(state) {
  return [...state.register.values()].filter(takesPart).length + state.trialists.size;
}

// How many play as far as anybody said: by the register from the first player on who takes part or took part, or tries out;
// until then by the last count of heads; 0 where nobody said.
export function counted(state) {
  const leads = state.trialists.size || [...state.register.values()].some((line) => line.state !== "absent" && line.taking !== "watching");
  return leads ? playing(state) : state.heads ?? 0;
}
