// What a part becomes for so many players, from what was taken along; where nothing was worked out, what comes nearest.

// The part itself, or the one whose drill is played in its place; a plan B was worked out for one number.
export function sourceOf(taken, key, swap) {
  if (!swap) return taken.parts[key];
  const same = (each) => each.drill === swap.drill && each.revision === swap.revision;
  const part = Object.values(taken.parts).find((each) => same(each));
  if (part) return part;
  const other = taken.instead.find((each) => same(each));
  if (!other || other.answer === undefined || !taken.answers[other.answer].setup) return null;
  return { ...other, near: { [taken.answers[other.answer].setup.players_total]: { answer: other.answer } } };
}

export function answerOf(taken, row) {
  return row?.answer === undefined ? null : taken.answers[row.answer];
}

// { players, answer, why, over, short }: the answer for so many; else the nearest number that has one, with who is over.
export function nearest(taken, source, wanted) {
  const near = source?.near ?? {};
  const why = near[wanted]?.why ?? [];
  const exact = answerOf(taken, near[wanted]);
  if (exact) return { players: wanted, answer: exact, why, over: 0, short: 0 };
  const known = Object.keys(near).map(Number).filter((each) => answerOf(taken, near[each]));
  if (!known.length || !(wanted > 0)) return { players: null, answer: null, why, over: 0, short: 0 };
  // Fewer come first: then everybody who is there has a place or is off in turn.
  const fewer = known.filter((each) => each < wanted).sort((a, b) => b - a)[0];
  const players = fewer ?? Math.min(...known);
  const over = Math.max(0, wanted - players);
  return { players, answer: answerOf(taken, near[players]), why, over, short: Math.max(0, players - wanted) };
}

// What to do with the nearest one, plainly.
export function insteadSaid({ players, over, short }, wanted, words, fill) {
  if (players === null) return fill(words.none_near, { n: wanted || "?" });
  return fill(over ? words.near_over : words.near_short, { n: wanted, m: players, k: over || short });
}
