import { dragged, press } from "../../bibrack/js/dragged.js";

// Rungs of the ladder are moved by hand; the server puts the rows in order. Without this script “Move up” and “Move down” do.
for (const holder of document.querySelectorAll("[data-rows]")) {
  if (!holder.querySelector(":scope > [data-row] [data-handle]")) continue;
  const { rows } = holder.dataset;
  dragged(holder, "[data-row]", {
    moved: (from, to) => press(holder.closest("form"), "move", `${rows}-${from}-to-${to}`, `#fold-${rows}`),
    button: (row, way) => row.querySelector(`[name=move][value$="-${way}"]`),
  });
}
