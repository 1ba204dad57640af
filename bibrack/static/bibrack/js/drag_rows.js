// Rows that are put in another order by hand: the handle is dragged, or moved with the arrow keys on it. What comes of it
// is the server's; without this script the rows' own buttons do the same.
//
//   dragRows(holder, "[data-row]", {
//     moved: (from, to) => …,                  a row was let go over another: their places, from 0
//     button: (row, way) => …,                 the row's button for "up" or "down"
//   });
//
// A row has a hidden <button type="button" data-handle>. Nothing is done where there is nobody to change places with.

const EDGE_PX = 96;
const STEP_PX = 7;

export function dragRows(holder, selector, { moved, button }) {
  const rows = () => [...holder.querySelectorAll(selector)].filter((row) => row.querySelector("[data-handle]"));
  const rowOf = (handle) => rows().find((row) => row.querySelector("[data-handle]") === handle);
  const handleOf = (event) => event.target.closest?.("[data-handle]");

  // What lies over the page at its edge (a bar, the button that saves) doesn't hide the row below it.
  function under({ clientX, clientY }) {
    const found = document.elementsFromPoint(clientX, clientY).find((each) => rows().includes(each.closest(selector)));
    return found ? rows().indexOf(found.closest(selector)) : -1;
  }

  // Rows may be longer than the screen: near its edges the page comes along.
  let held = null;
  function scrollAtEdge() {
    if (!held) return;
    const way = held.clientY < EDGE_PX ? -1 : held.clientY > innerHeight - EDGE_PX ? 1 : 0;
    if (way) {
      scrollBy({ top: way * STEP_PX, behavior: "instant" });
      mark(under(held));
    }
    requestAnimationFrame(scrollAtEdge);
  }

  function mark(place) {
    for (const [at, row] of rows().entries()) row.toggleAttribute("data-under", at === place);
  }

  function show() {
    const all = rows();
    for (const row of all) row.querySelector("[data-handle]").hidden = all.length < 2;
  }

  holder.addEventListener("pointerdown", (event) => {
    const handle = handleOf(event);
    if (!handle || event.button !== 0) return;
    event.preventDefault();
    handle.focus();
    handle.setPointerCapture(event.pointerId);
  });
  holder.addEventListener("pointermove", (event) => {
    if (!handleOf(event)?.hasPointerCapture(event.pointerId)) return;
    const first = held === null;
    held = event;
    mark(under(event));
    if (first) requestAnimationFrame(scrollAtEdge);
  });
  holder.addEventListener("pointercancel", () => {
    held = null;
    mark(-1);
  });
  holder.addEventListener("pointerup", (event) => {
    const handle = handleOf(event);
    if (!handle?.hasPointerCapture(event.pointerId)) return;
    held = null;
    const [from, to] = [rows().indexOf(rowOf(handle)), under(event)];
    mark(-1);
    if (to >= 0 && to !== from) moved(from, to);
  });
  holder.addEventListener("keydown", (event) => {
    const way = { ArrowUp: "up", ArrowDown: "down" }[event.key];
    const handle = way && handleOf(event);
    const found = handle && button(rowOf(handle), way);
    if (!found) return;
    event.preventDefault();
    found.click();
  });
  holder.addEventListener("focusin", show); // a row that was added takes the focus
  show();
}

// Send a form as if a button of this name and value had been pressed.
export function press(form, name, value, where) {
  const button = Object.assign(document.createElement("button"), { type: "submit", name, value, hidden: true });
  button.setAttribute("formaction", where);
  button.formNoValidate = true;
  form.append(button);
  form.requestSubmit(button);
}
