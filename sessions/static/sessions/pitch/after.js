// Afterwards, in under a minute: the register read through, how hard it was, whether all of it took place, what is worth
// running again, a line for next time. Each tap can be undone where it was made.

import { wall } from "./clock.js";

const LONGEST_MIN = 600;

export function after({ data, add, words, fill, undo, register, waiting }) {
  const at = (id) => document.getElementById(id);
  const [only, text, line] = ["minutes", "text", "next-text"].map(at);
  const rows = [...document.querySelectorAll("[data-again]")];
  let state = null;
  let typed = false; // minutes that a hand has typed stay

  const done = (said, ...events) => undo(said, events);
  const tap = (id, act) => at(id)?.addEventListener("click", act);

  // ---- the register -----------------------------------------------------------------------------------------------

  tap("confirm", () => done(fill(words.confirmed, { time: wall(Date.now()) }), add("confirmed", { taps: state.taps })));

  function drawRegister() {
    const { here, open } = register.counts;
    const confirmed = state.confirmed !== null;
    const count = fill(words.came_here, { n: here + state.trialists.size });
    const counted = open ? `${count}, ${fill(words.unmarked, { n: open })}` : count;
    at("read").textContent = state.taps ? [counted, confirmed ? fill(words.confirmed_at, { time: wall(state.confirmed) }) : ""].filter(Boolean).join(" · ") : words.no_register;
    at("confirm").hidden = confirmed || !state.taps;
    const apart = [...state.register].filter(([, each]) => each.others);
    at("read-apart").hidden = !apart.length;
    at("read-apart").replaceChildren(...apart.map(([id, each]) => {
      const row = document.createElement("li");
      row.append(Object.assign(document.createElement("b"), { textContent: register.nameOf(id) }), ` ${register.saidApart(each)}`);
      return row;
    }));
  }

  // ---- how hard ---------------------------------------------------------------------------------------------------

  const word = (value) => [...at("efforts").children].findLast((each) => Number(each.value) <= value)?.textContent ?? at("efforts").children[0].textContent;
  const rated = (value) => fill(words.rated, { word: word(value), n: value });

  for (const box of ["efforts", "exact"]) {
    tap(box, (event) => {
      const button = event.target.closest("button");
      if (button) done(rated(Number(button.value)), add("effort", { cr10: Number(button.value) }));
    });
  }

  function drawEffort() {
    for (const button of document.querySelectorAll("#efforts button, #exact button")) pressed(button, state.effort !== null && Number(button.value) === state.effort);
    at("rated").textContent = state.effort === null ? "" : rated(state.effort);
  }

  // ---- what took place --------------------------------------------------------------------------------------------

  tap("delivered", () => done(words.delivered, add("delivered")));
  tap("shortened", () => {
    const minutes = Number.parseInt(only.value, 10);
    if (minutes > 0 && minutes <= LONGEST_MIN) done(fill(words.shortened, { n: minutes }), add("shortened", { minutes }));
    else only.focus();
  });
  only.addEventListener("input", () => { typed = true; });

  // From the session's beginning to the end of the last part that has ended; of what nobody timed, so far.
  function ran() {
    const ends = [...state.parts.values()].map((part) => part.ended).filter((ms) => ms !== null);
    const ms = (ends.length ? Math.max(...ends) : Math.min(Date.now(), data.off)) - data.starts;
    return Math.min(LONGEST_MIN, Math.max(1, Math.round(ms / 60000)));
  }

  function drawTook() {
    pressed(at("delivered"), state.status === "delivered");
    pressed(at("shortened"), state.status === "shortened");
    if (!typed && document.activeElement !== only) only.value = state.status === "shortened" ? state.minutes : ran();
  }

  // ---- again ------------------------------------------------------------------------------------------------------

  const title = (row) => row.querySelector("b").textContent;
  const partOf = (row) => state.parts.get(row.dataset.again);

  for (const row of rows) {
    row.addEventListener("click", ({ target }) => {
      const button = target.closest("button");
      if (button) done(`${title(row)} ${words.again} ${button.textContent}`, add("again", { part: row.dataset.again, answer: button.value }));
    });
  }
  tap("all-again", () => {
    const open = rows.filter((row) => !row.hidden && partOf(row).again === null);
    done(words.all_again, ...open.map((row) => add("again", { part: row.dataset.again, answer: "yes" })));
  });

  // Parts that ran; where nobody timed any, all that were not left out.
  function drawAgain() {
    const timed = [...state.parts.values()].some((part) => part.started !== null);
    let open = 0;
    for (const row of rows) {
      const part = partOf(row);
      row.hidden = part.skipped || (timed && part.started === null);
      open += Number(!row.hidden && part.again === null);
      for (const button of row.querySelectorAll("button")) pressed(button, button.value === part.again);
    }
    if (rows.length) at("all-again").hidden = open < 2;
  }

  // ---- next time, a note, the last child -----------------------------------------------------------------------------

  // Saved as soon as the hand leaves the line, too: what was typed is never lost.
  function saveLine() {
    const now = line.value.trim();
    if (now === (state.nextTime?.text ?? "")) return;
    if (now) done(words.next_saved, add("next_time", { text: now }));
    else done(words.next_gone, add("undone", { event: state.nextTime.id }));
  }
  line.addEventListener("change", saveLine);
  at("next-time").addEventListener("submit", (event) => { event.preventDefault(); saveLine(); });

  at("note").addEventListener("submit", (event) => {
    event.preventDefault();
    const note = text.value.trim();
    if (!note) return;
    done(words.noted, add("note", { text: note }));
    text.value = "";
  });
  tap("collected", () => done(at("collected").textContent, add("collected")));

  // ---- the closing line ---------------------------------------------------------------------------------------------

  function sent() {
    if (!state) return;
    const settled = ["delivered", "shortened", "cancelled", "moved"].includes(state.status);
    const open = [
      state.confirmed === null && words.say_register,
      state.effort === null && words.say_effort,
      !settled && words.say_took,
      state.collected === null && words.say_collected,
    ].filter(Boolean);
    const left = waiting();
    at("after-said").textContent = [
      open.length ? fill(words.still_to_say, { what: open.join(", ") }) : words.all_recorded,
      left ? fill(words.on_phone, { n: left }) : words.all_sent,
    ].join(" ");
  }

  function pressed(button, is) {
    button.setAttribute("aria-pressed", String(is));
  }

  return {
    sent,
    draw(now) {
      state = now;
      drawRegister();
      drawEffort();
      drawTook();
      drawAgain();
      if (document.activeElement !== line) line.value = state.nextTime?.text ?? "";
      at("collected-said").textContent = state.collected === null ? "" : fill(words.collected, { time: wall(state.collected) });
      sent();
    },
  };
}
