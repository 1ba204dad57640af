// Who is off in a round. One rule, in this order: the team that rests by the turns of whole teams; whom the turns of single
// players name, where they were worked out at the desk; else, where so many are off at a time, everybody by name in a ring,
// the first ones in round 1, the next ones in round 2, and so on: nobody is off twice before all were off once.

export function offIn(round, { bibs, planned, waiting, ring }) {
  if (bibs) return { bibs, ids: [] };
  if (planned) return { bibs: "", ids: planned };
  if (!(waiting > 0) || ring.length <= waiting) return { bibs: "", ids: [] };
  const from = ((round - 1) * waiting) % ring.length;
  return { bibs: "", ids: Array.from({ length: waiting }, (_, n) => ring[(from + n) % ring.length]) };
}
