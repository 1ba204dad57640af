// What was just tapped can be taken back: it is said for a while, with a button that makes it not have happened.

const SHOWN_MS = 12_000;

export function undoing({ add, words }) {
  const box = document.getElementById("tapped");
  const button = box.querySelector("button");
  let events = [];
  let timer = null;
  const away = () => { box.hidden = true; events = []; };
  button.addEventListener("click", () => {
    const back = events;
    away();
    for (const event of back) add("undone", { event: event.id });
    document.getElementById("said").textContent = words.taken_back;
  });
  addEventListener("hashchange", away);
  return (text, done) => {
    clearTimeout(timer);
    events = done;
    box.firstElementChild.textContent = text;
    box.hidden = false;
    timer = setTimeout(away, SHOWN_MS);
  };
}
