import { dragRows, press } from "../../bibrack/js/drag_rows.js";

// Rungs of the ladder are moved by hand; the server puts the rows in order. Without this script “Up” and “Down” do.
for (const holder of document.querySelectorAll("[data-rows]")) {
  if (!holder.querySelector(":scope > [data-row] [data-handle]")) continue;
  const { rows } = holder.dataset;
  dragRows(holder, "[data-row]", {
    moved: (from, to) => press(holder.closest("form"), "move", `${rows}-${from}-to-${to}`, `#fold-${rows}`),
    button: (row, way) => row.querySelector(`[name=move][value$="-${way}"]`),
  });
}

// The page comes anew with the row in its place: the hand is put back on it, so that the next key moves it on.
const MOVED = "moved-rung";
document.addEventListener("submit", ({ submitter }) => {
  const [, rows, place, way, to] = /^(\w+)-(\d+)-(?:(up|down)|to-(\d+))$/.exec(submitter?.name === "move" ? submitter.value : "") ?? [];
  if (rows) sessionStorage.setItem(MOVED, JSON.stringify([rows, to ?? Number(place) + (way === "down" ? 1 : -1)]));
});
const [rows, place] = JSON.parse(sessionStorage.getItem(MOVED) ?? "[]");
sessionStorage.removeItem(MOVED);
// The address names the chapter, and going there takes the focus away: it is given afterwards.
if (rows) addEventListener("load", () => setTimeout(() => {
  document.querySelectorAll(`[data-rows="${rows}"] > [data-row]`)[place]?.querySelector("[data-handle]")?.focus();
}));
