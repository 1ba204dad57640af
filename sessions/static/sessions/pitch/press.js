// What the thumbs press on the clock's view. Each tap says what it did, and can be undone.

import { running } from "./fold.js";

// The server says where each variation leads: the key of another one, empty for the drill as written, or nothing.
export const stands = (key) => typeof key === "string";

export function pressing({ add, undo, words, fill, go, keys, current, started, shown, rungOf, now, look }) {
  function climb({ key, ...part }, way, kind, said) {
    const to = rungOf(part)?.[way];
    if (stands(to)) undo(said, [add(kind, { part: key, to })]);
  }

  // The first part ran from its planned start, though nobody pressed anything.
  function begun({ key, index, own }) {
    const ms = started(index);
    if (own.started === null && ms !== null) add("part_started", { part: key }, ms);
  }

  function onwards(target) {
    look(null);
    if (target >= keys.length) return finish(words.finished);
    if (keys[target] !== current()) begun(shown());
    const event = add(target === 0 ? "part_started" : "next_part", { part: keys[target] });
    go("part");
    undo(fill(words.has_begun, { n: target + 1 }), [event]);
  }

  function finish(text) {
    look(null);
    begun(shown());
    const key = running(now());
    const done = key ? [add("part_ended", { part: key })] : [];
    go("after");
    undo(text, done, () => go("part"));
  }

  const thumbs = {
    hold(part) {
      if (started(part.index) === null) return;
      begun(part);
      const pauses = part.own.heldSince === null;
      undo(pauses ? words.paused : words.goes_on, [add(pauses ? "bout_held" : "bout_resumed", { part: part.key })]);
    },
    easier: (part) => climb(part, "easier", "easier", words.easier_now),
    harder: (part) => climb(part, "harder", "harder", words.harder_now),
    back: (part) => climb(part, "back", rungOf(part)?.side === "easier" ? "harder" : "easier", words.as_written),
    minute: (part) => undo(words.one_more, [add("minute_more", { part: part.key, minutes: 1 })]),
  };

  return { begun, onwards, finish, thumbs };
}
