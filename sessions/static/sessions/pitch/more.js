// What is needed once an evening: the pocket, a screen that stays awake, another part.

import { onHold } from "./hold_to_press.js";

export function more({ words, look }) {
  // Large text wraps the tools: what scrolls ends above them.
  const tools = document.querySelector(".tools");
  new ResizeObserver(() => tools.parentElement.style.setProperty("--tools", `${tools.offsetHeight}px`)).observe(tools);
  document.querySelector(".parts").addEventListener("click", (event) => {
    const button = event.target.closest("[data-go]");
    if (button) look(button.dataset.go);
  });
  pocket(words);
  awake(words);
}

function pocket(words) {
  const screen = document.getElementById("pocket");
  const page = document.getElementById("pitch");
  const open = document.getElementById("pocket-open");
  const from = document.getElementById("to-pocket");
  from.addEventListener("click", () => {
    screen.hidden = false;
    page.inert = true;
    open.focus();
  });
  const back = () => {
    screen.hidden = true;
    page.inert = false;
    location.hash = "part";
  };
  onHold(open, back, () => { open.firstElementChild.textContent = words.press_to_open; });
}

function awake(words) {
  const button = document.getElementById("awake");
  const said = document.getElementById("awake-said");
  let lock = null;
  if (!("wakeLock" in navigator)) {
    button.hidden = true;
    said.textContent = words.no_wake;
    return;
  }
  const ask = async () => {
    try {
      lock = await navigator.wakeLock.request("screen");
      said.textContent = words.awake;
    } catch (error) {
      lock = null;
      said.textContent = error.name === "NotAllowedError" ? words.wake_refused : words.no_wake;
    }
    button.setAttribute("aria-pressed", String(lock !== null));
  };
  button.addEventListener("click", async () => {
    if (lock === null) return ask();
    await lock.release();
    lock = null;
    said.textContent = words.asleep;
    button.setAttribute("aria-pressed", "false");
  });
  // A phone lets go of it whenever the page is out of sight.
  document.addEventListener("visibilitychange", () => { if (!document.hidden && lock !== null) ask(); });
}
