// What was just tapped can be undone: it is said for a while, with a button that makes it not have happened. On the clock's
// view it stands between the plan, which gives way, and what to say: it covers neither the thumbs nor what they changed.

const SHOWN_MS = 10_000;

export function undoing({ add, words }) {
  const box = document.getElementById("tapped");
  const button = box.querySelector("button");
  const said = document.getElementById("said");
  let events = [];
  let back = null;
  let from = null;
  let where = "";
  let timer = null;
  const away = () => { box.hidden = true; events = []; };
  const take = () => {
    const [taken, after, origin] = [events, back, from];
    away();
    const gone = typeof taken === "function" ? taken() : taken; // or what finds them now
    for (const event of gone.toReversed()) add("undone", { event: event.id });
    after?.();
    said.textContent = words.taken_back;
    if (origin?.isConnected) origin.focus({ preventScroll: true });
  };
  button.addEventListener("click", take);
  addEventListener("keydown", (event) => {
    if (box.hidden || button.hidden || event.key !== "z" || !(event.ctrlKey || event.metaKey)) return;
    if (event.target.closest("input, textarea, select")) return;
    event.preventDefault();
    take();
  });
  addEventListener("hashchange", () => { if (location.hash !== where) away(); });
  return (text, done, then = null) => {
    clearTimeout(timer);
    [events, back, where] = [done, then, location.hash];
    if (document.activeElement !== button) from = document.activeElement;
    place(box);
    box.firstElementChild.textContent = said.textContent = text;
    button.hidden = done.length === 0 && typeof done !== "function";
    box.hidden = false;
    // Whoever goes by keys has all the time they need to get there.
    if (!document.activeElement.matches("button:focus-visible")) timer = setTimeout(away, SHOWN_MS);
  };
}

function place(box) {
  const part = document.querySelector(".of-part:not([hidden])");
  const at = part?.querySelector(".thumbs").getBoundingClientRect();
  if (at?.height && at.top > 0 && at.top < innerHeight) part.querySelector(".say").before(box);
  else document.querySelector(".tools").before(box);
}
