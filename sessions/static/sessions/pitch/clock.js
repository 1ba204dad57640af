// The clock of one part: its bouts and rests from its start, holds taken out, minutes that were given put in.

// Rounds that are dropped are the last ones, each with its rest: the part ends by so much earlier, as the server counts it.
export function spells(part, extras = [], dropped = 0) {
  const found = [];
  let at = 0;
  const bouts = Math.max(0, part.bouts - dropped);
  const whole = part.minutes * 60 - (part.bouts - bouts) * (part.bout_s + part.rest_s);
  const add = (kind, n, s) => { found.push({ kind, n, from: at, to: at + s }); at += s; };
  for (let n = 1; n <= bouts; n += 1) {
    add("bout", n, part.bout_s);
    if (n < bouts && part.rest_s) add("rest", n, part.rest_s);
  }
  if (whole > at || !found.length) add("ends", bouts, Math.max(0, whole - at));
  for (const extra of extras) lengthen(found, extra);
  return found;
}

// A minute more goes to the bout (or rest) that runs when it is given; whatever follows moves back.
function lengthen(found, extra) {
  const index = found.findIndex((spell) => extra.at < spell.to);
  const first = index < 0 ? found.length - 1 : index;
  found.forEach((spell, n) => {
    if (n > first) spell.from += extra.s;
    if (n >= first) spell.to += extra.s;
  });
}

export function elapsed(started, state, now) {
  const held = state.held + (state.heldSince === null ? 0 : now - state.heldSince);
  return (Math.min(now, state.ended ?? now) - started - held) / 1000;
}

// What the clock shows. `started` is null for a part that hasn't begun.
export function face(part, state, started, now) {
  if (started === null) return { run: "wait", left: (part.from - now) / 1000, spell: null, next: null };
  const extras = state.extras.map((each) => ({ s: each.s, at: elapsed(started, { ...each, ended: null }, each.ms) }));
  const all = spells(part, extras, state.dropped);
  const at = elapsed(started, state, now);
  const index = all.findIndex((spell) => at < spell.to);
  if (index < 0) return { run: "over", left: at - all.at(-1).to, spell: null, next: null, all };
  const spell = all[index];
  const run = state.heldSince !== null ? "held" : spell.kind === "bout" ? "play" : "rest";
  return { run, left: spell.to - at, spell, next: all[index + 1] ?? null, all };
}

// Counting down the last second shows 0:01; counting up begins at 0:00.
export function digits(seconds, up = false) {
  const whole = Math.max(0, up ? Math.floor(seconds) : Math.ceil(seconds));
  const minutes = Math.floor(whole / 60);
  const text = `${minutes % 60}:${String(whole % 60).padStart(2, "0")}`;
  return minutes < 60 ? text : `${Math.floor(minutes / 60)}:${text.padStart(5, "0")}`;
}

// As on a wristwatch; seconds only where they say something.
export function wall(ms, seconds = false) {
  const at = new Date(ms);
  const two = (number) => String(number).padStart(2, "0");
  const rest = seconds && at.getSeconds() ? `:${two(at.getSeconds())}` : "";
  return `${two(at.getHours())}:${two(at.getMinutes())}${rest}`;
}
