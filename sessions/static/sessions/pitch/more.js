// What is needed once an evening: the pocket, a screen that stays awake, another part.

import { onHold } from "./hold_to_press.js";
import { remember } from "./kept.js";

export function more({ words, look }) {
  document.querySelector(".parts").addEventListener("click", (event) => {
    const button = event.target.closest("[data-go]");
    if (button) look(button.dataset.go);
  });
  pocket(words);
  awake(words);
  hand();
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
  const to = (view) => {
    screen.hidden = true;
    page.inert = false;
    location.hash = view;
  };
  // A tap in the pocket opens nothing and rings nobody: both are held.
  for (const [button, view] of [[open, "part"], [document.getElementById("pocket-urgent"), "emergency"]]) {
    const { textContent } = button.firstElementChild;
    const tell = (text) => { button.firstElementChild.textContent = text; setTimeout(() => { button.firstElementChild.textContent = textContent; }, 4000); };
    onHold(button, () => to(view), () => tell(words.press_to_open), () => tell(words.press_longer));
  }
}

// For a phone held in the left hand: buttons stand the other way round.
function hand() {
  const button = document.getElementById("left-hand");
  const page = document.documentElement;
  const turn = (left) => {
    page.toggleAttribute("data-left", left);
    button.setAttribute("aria-pressed", String(left));
  };
  turn(page.hasAttribute("data-left")); // as the page put it on before it was shown
  button.addEventListener("click", () => {
    turn(!page.hasAttribute("data-left"));
    remember("hand", page.hasAttribute("data-left") ? "left" : "right");
  });
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
