// What the events leave behind, folded as the server folds them: sorted by (time, id), so that every phone shows the same.

const PLAN = new Set(["easier", "harder", "fit_accepted", "minute_more"]);

export function fold(events, partKeys) {
  const state = { register: new Map(), guests: new Set(), parts: new Map(), out: new Map(), collected: null, effort: null, status: "planned", minutes: null };
  for (const key of partKeys) state.parts.set(key, { started: null, ended: null, held: 0, heldSince: null, extras: [], rung: null, setup: null });
  const unique = new Map(events.map((event) => [event.id, event]));
  const sorted = [...unique.values()].sort((a, b) => a.ms - b.ms || (a.id < b.id ? -1 : 1));
  for (const event of sorted) take(state, event);
  return state;
}

function take(state, event) {
  if (event.player && event.kind !== "effort") return register(state, event);
  const part = event.part ? state.parts.get(event.part) : null;
  if (event.kind === "part_started" || event.kind === "next_part") return part && start(state, part, event.ms);
  if (part && event.kind === "part_ended") return part.ended === null ? end(part, event.ms) : undefined;
  if (part && event.kind === "bout_held") part.heldSince ??= event.ms;
  if (part && event.kind === "bout_resumed") resume(part, event.ms);
  if (part && PLAN.has(event.kind)) return change(part, event);
  if (event.kind === "effort" && !event.part && !event.player) state.effort = event.cr10;
  if (["delivered", "shortened", "cancelled", "moved"].includes(event.kind)) {
    state.status = event.kind;
    state.minutes = event.minutes ?? null;
  }
  if (event.kind === "as_planned") state.status = "planned";
  if (event.kind === "collected") state.collected = event.ms;
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
    const limits = event.limits ?? [];
    const most = event.at_most_min ?? null;
    Object.assign(line, { state: here, limits, most, taking: limits.length || most ? "limited" : "full" });
  }
}

function start(state, part, ms) {
  for (const other of state.parts.values()) {
    if (other !== part && other.started !== null && other.ended === null) end(other, ms);
  }
  part.started ??= ms;
  part.ended = null;
}

function end(part, ms) {
  resume(part, ms);
  part.ended = ms;
}

function resume(part, ms) {
  if (part.heldSince === null) return;
  part.held += ms - part.heldSince;
  part.heldSince = null;
}

function change(part, event) {
  if (event.kind === "minute_more") part.extras.push({ ms: event.ms, held: part.held, heldSince: part.heldSince, s: 60 * (event.minutes ?? 1) });
  else if (event.kind === "fit_accepted") part.setup = event.setup;
  else Object.assign(part, { rung: event.to, setup: null });
}

// The part that runs: the last one started, else none.
export function running(state) {
  let found = null;
  for (const [key, part] of state.parts) {
    if (part.started !== null && part.ended === null) found = key;
  }
  return found;
}

// Who is there now and takes part: what a drill is set up for.
export function playing(state) {
  return [...state.register.values()].filter((line) => ["here", "late"].includes(line.state) && line.taking !== "watching").length;
}
