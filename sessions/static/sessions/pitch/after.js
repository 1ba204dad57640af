// After the last part: one rating, a note, and whether all of it took place.

import { wall } from "./clock.js";

export function after({ add, words, fill, minutes }) {
  const efforts = document.getElementById("efforts");
  const said = document.getElementById("after-said");
  const only = document.getElementById("minutes");
  const text = document.getElementById("text");
  const tell = (line) => { said.textContent = line; };

  efforts.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    add("effort", { cr10: Number(button.value) });
    tell(fill(words.rated, { n: button.value }));
  });
  document.getElementById("note").addEventListener("submit", (event) => {
    event.preventDefault();
    const note = text.value.trim();
    if (!note) return;
    add("note", { text: note });
    text.value = "";
    tell(words.noted);
  });
  document.getElementById("delivered").addEventListener("click", () => add("delivered"));
  const gone = document.getElementById("collected-said");
  document.getElementById("collected").addEventListener("click", () => add("collected"));
  document.getElementById("shortened").addEventListener("click", () => {
    const typed = Number.parseInt(only.value, 10);
    if (typed > 0 && typed <= 600) add("shortened", { minutes: typed });
    else only.focus();
  });

  return {
    draw(state) {
      for (const button of efforts.children) button.setAttribute("aria-pressed", String(Number(button.value) === state.effort));
      only.placeholder = Math.min(600, Math.max(1, minutes()));
      if (state.status === "delivered") tell(words.delivered);
      if (state.collected !== null) gone.textContent = fill(words.collected, { time: wall(state.collected) });
      if (state.status === "shortened") tell(fill(words.shortened, { n: state.minutes }));
    },
  };
}
