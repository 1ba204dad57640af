// Signing out: what was taken along leaves this phone; what was recorded and not sent stays until its account signs in again.

import { signedOut } from "./bundles.js";
import { rows } from "./store.js";

const PATIENCE_MS = 2000;
const form = document.querySelector("[data-signs-out]");
const left = document.getElementById("left-here");

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  await Promise.race([signedOut().catch(() => {}), new Promise((resolve) => { setTimeout(resolve, PATIENCE_MS); })]);
  form.submit();
});

const waiting = (await rows("outbox").catch(() => [])).filter((row) => row.refused === undefined);
left.hidden = !waiting.length;
left.textContent = waiting.length === 1 ? left.dataset.one : left.dataset.many.replace("{n}", waiting.length);
