// What was just tapped can be taken back: it is said for a while, with a button that makes it not have happened.

const SHOWN_MS = 12_000;
const GOING_MS = 400;

export function undoing({ add, words }) {
  const box = document.getElementById("tapped");
  const button = box.querySelector("button");
  let events = [];
  let also = null;
  let timer = null;
  let since = 0;
  const away = () => { box.hidden = true; events = []; also = null; };
  button.addEventListener("click", () => {
    const [back, then] = [typeof events === "function" ? events() : events, also];
    away();
    then?.();
    for (const event of back) add("undone", { event: event.id });
    document.getElementById("said").textContent = words.taken_back;
  });
  // Whoever goes elsewhere has left it; the tap itself may lead to another view.
  addEventListener("hashchange", () => { if (Date.now() - since > GOING_MS) away(); });
  // `done`: the events, or what finds them when they are taken back; `then` is what else is put back.
  return (text, done, then = null) => {
    clearTimeout(timer);
    [events, also, since] = [done, then, Date.now()];
    box.firstElementChild.textContent = text;
    box.hidden = false;
    timer = setTimeout(away, SHOWN_MS);
  };
}
