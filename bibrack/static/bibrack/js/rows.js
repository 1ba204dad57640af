// Repeated rows of a form: add, take away, put back, move. Without this script the server's spare rows and the
// "take away" boxes do the same after saving.
//
//   <div class="repeat" data-rows="questions">            the prefix of the rows; {prefix}-TOTAL_FORMS stands inside
//     <div class="again" data-row> … <input name="questions-0-DELETE"> <button data-remove> <button data-up> … </div>
//     <template> one row with __prefix__ for its number </template>
//     <button type="button" data-add>Another question</button>
//   </div>

const mine = (holder, selector) =>
  [...holder.querySelectorAll(selector)].filter((found) => found.closest("[data-rows]") === holder);
const rowsOf = (holder) => mine(holder, "[data-row]");
const inRow = (row, ending) =>
  [...row.querySelectorAll("input")].find((input) => input.name.endsWith(ending) && input.closest("[data-row]") === row);

function number(holder) {
  rowsOf(holder).forEach((row, place) => {
    const order = inRow(row, "-ORDER");
    if (order) order.value = String(place + 1);
  });
}

function add(holder) {
  const total = holder.querySelector(`[name="${holder.dataset.rows}-TOTAL_FORMS"]`);
  const template = mine(holder, "template").at(-1);
  if (!total || !template) return;
  const made = document.createElement("template");
  made.innerHTML = template.innerHTML.replaceAll("__prefix__", total.value);
  const row = made.content.firstElementChild;
  total.value = String(Number(total.value) + 1);
  template.before(row);
  prepare(row);
  number(holder);
  row.querySelector("input:not([type=hidden]), select, textarea")?.focus();
}

function takeAway(row, gone) {
  const box = inRow(row, "-DELETE");
  if (box) box.checked = gone;
  row.classList.toggle("gone", gone);
  const back = row.querySelector(".back");
  if (back) back.hidden = !gone;
  (gone ? back?.querySelector("button") ?? row.parentElement.querySelector("[data-add]") : row.querySelector("[data-remove]"))?.focus();
  row.dispatchEvent(new Event("input", { bubbles: true }));
}

function move(row, step) {
  const holder = row.closest("[data-rows]");
  const rows = rowsOf(holder);
  const other = rows[rows.indexOf(row) + step];
  if (!other) return;
  if (step < 0) other.before(row); else other.after(row);
  number(holder);
  row.querySelector(step < 0 ? "[data-up]" : "[data-down]")?.focus();
  row.dispatchEvent(new Event("input", { bubbles: true }));
}

// With the script running, buttons stand in for the boxes.
function prepare(root) {
  for (const button of root.querySelectorAll("[data-remove], [data-add], [data-up], [data-down]")) button.hidden = false;
  for (const box of root.querySelectorAll("[data-delete-box]")) box.hidden = true;
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-add], button[data-remove], button[data-back], button[data-up], button[data-down]");
  if (!button) return;
  const row = button.closest("[data-row]");
  if ("add" in button.dataset) add(button.closest("[data-rows]"));
  else if (row && "remove" in button.dataset) takeAway(row, true);
  else if (row && "back" in button.dataset) takeAway(row, false);
  else if (row) move(row, "up" in button.dataset ? -1 : 1);
});

for (const holder of document.querySelectorAll("[data-rows]")) prepare(holder);
document.addEventListener("htmx:load", (event) => prepare(event.target));
