// Whether this page is a copy that the phone kept, from when, and what the club has changed since.

import { wall } from "./clock.js";

const MINUTE_MS = 60 * 1000;
const DAY_MS = 24 * 60 * MINUTE_MS;
const TOLD_MS = 2 * MINUTE_MS;

// The club's times by this phone's clock, which may be wrong by `ahead` ms: what counts down does so rightly all the same.
export function byThisClock(data, ahead) {
  for (const name of ["starts", "clear", "off"]) data[name] += ahead;
  for (const part of data.parts) part.from += ahead;
}

export function savedCopy({ about, words, fill, savedAt, ahead }) {
  const line = document.getElementById("copy");
  const day = new Intl.DateTimeFormat(document.documentElement.lang, { weekday: "short" });
  const at = (ms) => (Date.now() - ms < DAY_MS ? wall(ms) : `${day.format(ms)} ${wall(ms)}`);
  const say = (text, link) => {
    line.hidden = !text;
    line.replaceChildren(text);
    if (link) line.append(" ", Object.assign(document.createElement("a"), { href: about.url, textContent: link }));
  };
  if (Math.abs(ahead) >= TOLD_MS) {
    const n = Math.round(Math.abs(ahead) / MINUTE_MS);
    document.getElementById("clock-said").textContent = fill(ahead > 0 ? words.clock_fast : words.clock_slow, { n });
  }
  if (savedAt !== null) say(fill(words.saved_copy, { time: at(savedAt) }));

  return {
    // The server was heard: what it says of the plan and of the session.
    fresh({ plan, standing }) {
      if (standing === "cancelled") return say(words.cancelled_since);
      if (plan !== about.plan) return say(words.planned_since, words.load_new);
      if (savedAt !== null) say(fill(words.saved_and_signal, { time: at(savedAt) }), words.load_new);
    },
  };
}
