// What stands beside the clock, in words: this spell, what comes after it, who goes out, and the rounds by the wristwatch.

import { digits, spells, wall } from "./clock.js";
import { write } from "./write.js";

const boutsOf = ({ part, own }) => Math.max(0, part.bouts - own.dropped);

export function clockTexts({ data, words, fill }) {
  function texts(clock, now) {
    const up = clock.run === "over";
    const shownDigits = `${up ? "+" : ""}${digits(clock.left, up)}`;
    const title = { title: now.part.title };
    if (now.own.skipped) return { digits: wall(now.part.from), bout: fill(words.was_skipped, title), then: "" };
    if (clock.run === "wait") return { digits: clock.left > 0 && clock.left < 12 * 3600 ? shownDigits : wall(now.part.from), bout: clock.left > 0 ? `${words.soon}: ${now.part.title}` : fill(words.not_begun, title), then: bibs(now, 1) };
    if (up) return { digits: shownDigits, bout: words.over, then: onwards(now) };
    const { spell } = clock;
    const name = { bout: fill(words.bout, { n: spell.n, all: boutsOf(now) }), rest: words.rest, ends: words.ends }[spell.kind];
    if (clock.run === "held") return { digits: shownDigits, bout: `${words.held} · ${name}`, then: words.held_then };
    return { digits: shownDigits, bout: name, then: then(clock, now) };
  }

  function then({ spell, next: following }, now) {
    if (!following || following.kind === "ends") return onwards(now);
    if (following.kind === "bout") return [fill(words.then_bout, { n: following.n }), bibs(now, following.n)].filter(Boolean).join(", ");
    const rest = fill(words.then_rest, { time: digits(following.to - following.from) });
    return [rest, goesOut(now, spell.n + 1)].filter(Boolean).join(", ");
  }

  function onwards(now) {
    const following = data.parts[now.index + 1];
    return following ? fill(words.then_next, { title: following.title }) : words.then_clear;
  }

  function bibs({ part }, bout) {
    const turnNow = part.turns[bout - 1];
    if (!turnNow) return "";
    const names = [words.inside, words.outside, words.resting];
    return turnNow.map((who, n) => who && fill(names[n], { who })).filter(Boolean).join(", ");
  }

  function goesOut({ part }, bout) {
    const who = part.turns[bout - 1]?.[1];
    return who ? fill(words.goes_out, { who }) : "";
  }

  // The rounds by the clock on the wall, as this part really runs from a moment on.
  function rounds(now, clock, from) {
    const held = now.own.held + (now.own.heldSince === null ? 0 : Date.now() - now.own.heldSince);
    const all = clock.all ?? spells(now.part, [], now.own.dropped);
    return all.filter((spell) => spell.kind === "bout").map((spell) => {
      const name = fill(words.bout, { n: spell.n, all: boutsOf(now) });
      return `${name} ${wall(from + held + spell.from * 1000, true)}–${wall(from + held + spell.to * 1000, true)}`;
    }).join(" · ");
  }

  // Written below the part, with the turns of the rounds that are left.
  function wristwatch(now, clock, from) {
    const line = now.article.querySelector(".times");
    if (!line) return;
    write(line, rounds(now, clock, from));
    for (const row of now.article.querySelectorAll("[data-turn]")) {
      const turn = Number(row.dataset.turn);
      row.hidden = turn > boutsOf(now);
      row.classList.toggle("is-now", clock.spell?.kind === "bout" && turn === clock.spell.n);
    }
  }

  return { texts, wristwatch };
}
