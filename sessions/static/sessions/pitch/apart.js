// Where phones said otherwise of a player: what each said last, whose phone it was, and what counts.

import { wall } from "./clock.js";
import { isolated } from "./register.js";

export function apart({ words, fill, device }) {
  const word = (each) => words[each.taking === "watching" ? "watching" : each.state];

  function phone(said) {
    if (said.device === device) return words.this_phone;
    return said.by ? fill(words.phone_of, { name: isolated(said.by) }) : words.another_phone;
  }

  return ({ others, said }) => [
    ...[...others, said].map((each) => fill(words.phone_said, { phone: phone(each), word: word(each), time: wall(each.ms) })),
    fill(words.counts, { word: word(said) }),
  ].join(" ");
}
