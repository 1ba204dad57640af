// A press that is meant: held for most of a second; a short tap says so. By keyboard or by a reader's command: pressed twice.

const HOLD_MS = 800;
const AGAIN_MS = 5000;

export function onHold(button, act, say, hint) {
  let timer = null;
  let armed = 0;
  let done = false;
  const stop = () => { clearTimeout(timer); timer = null; button.classList.remove("holding"); };
  button.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || button.disabled) return;
    button.classList.add("holding");
    done = false;
    timer = setTimeout(() => { done = true; stop(); act(); }, HOLD_MS);
  });
  for (const kind of ["pointerup", "pointerleave", "pointercancel"]) button.addEventListener(kind, stop);
  button.addEventListener("contextmenu", (event) => event.preventDefault());
  button.addEventListener("click", (event) => {
    if (event.detail !== 0) { if (!done) hint?.(); return; }
    if (Date.now() - armed < AGAIN_MS) { armed = 0; act(); } else { armed = Date.now(); say(); }
  });
}
