import { dragRows, press } from "../../bibrack/js/drag_rows.js";

const form = document.querySelector("[data-parts]");

// Parts are moved by hand; the server puts the rows in order. Without this script “Up” and “Down” do the same.
if (form) {
  dragRows(form, "[data-part]", {
    moved: (from, to) => press(form, "do", `move:${from}:${to}`, "#parts"),
    button: (row, way) => row.querySelector(`[name=do][value^="${way}:"]`),
  });
}
