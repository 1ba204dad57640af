// On Today: take the week along, and send what waits on this phone.

import { belongsTo, bundle, tidy } from "./bundles.js";
import { stands } from "./standing.js";
import { take } from "./take.js";
import { sendWaiting } from "./waiting.js";

const of = JSON.parse(document.getElementById("this-week").textContent);
const opens = stands(of.worker);
const left = document.getElementById("left-here");
const button = document.getElementById("take-along");
const said = document.getElementById("taken");
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");

async function waits() {
  const { own, others, why } = await sendWaiting(of.phone);
  const count = own + others;
  left.hidden = !count;
  const text = count === 1 ? of.words.one_left : fill(of.words.left, { n: count });
  left.textContent = [text, others ? of.words.others_left : why === "gone" ? of.words.gone : ""].filter(Boolean).join(" ");
}

async function along() {
  button.disabled = true;
  let done = 0;
  let trouble = "";
  for (const url of of.urls) {
    said.textContent = fill(of.words.taking, { n: done + 1, all: of.urls.length });
    try {
      await take(url);
      done += 1;
    } catch (error) {
      trouble = error.why ?? "full";
      if (trouble !== "gone") break;
    }
  }
  await navigator.storage?.persist?.().catch(() => {});
  const end = trouble && of.words[`not_${trouble}`] ? of.words[`not_${trouble}`] : (await opens) ? of.words.opens : of.words.no_https;
  said.textContent = `${fill(of.words.taken, { n: done, all: of.urls.length })} ${end}`;
  button.disabled = false;
}

// What was taken along before, so that nobody takes it twice for nothing.
async function before() {
  const found = await Promise.all(of.urls.map((url) => bundle(of.account, url.split("/").at(-3))));
  const count = found.filter(Boolean).length;
  if (count) said.textContent = fill(of.words.here, { n: count, all: of.urls.length });
}

addEventListener("online", () => { waits().catch(() => {}); });
try {
  await belongsTo(of.account);
  await tidy();
  if (button) {
    button.hidden = false;
    button.addEventListener("click", along);
    await before();
  }
  await waits();
} catch {
  if (button) said.textContent = of.words.not_full;
}
