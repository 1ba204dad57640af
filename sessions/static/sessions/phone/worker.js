// Between the pages and the network, so that a session opens without signal. Its cache holds what is the same for everybody:
// the shell and the files. What is of a person stands in IndexedDB alone.

import { copyAt, saved, tidy } from "./bundles.js";
import { CHANNEL } from "./settled.js";
import { take } from "./take.js";
import { sendWaiting } from "./waiting.js";

const CACHE = "bibrack ";
const PATIENCE_MS = 2500; // one bar of signal is none: a copy that is here is shown
const HASHED = /\.[0-9a-f]{12}\.\w+$/;

export function work({ version, files, shell, phone }) {
  const name = CACHE + version;
  const ours = new Set(files);
  const all = [shell, ...files];

  addEventListener("install", (event) => event.waitUntil(install(name, all)));
  addEventListener("activate", (event) => event.waitUntil(activate(name)));
  addEventListener("sync", (event) => {
    if (event.tag === CHANNEL) event.waitUntil(sendAll(phone));
  });
  addEventListener("message", (event) => {
    event.waitUntil(filled(name, all).then(() => true, () => false).then((answer) => event.ports[0].postMessage(answer)));
  });
  addEventListener("fetch", (event) => {
    const { request } = event;
    if (request.method !== "GET") return;
    const url = new URL(request.url);
    if (url.origin !== location.origin) return;
    if (request.mode === "navigate") event.respondWith(page(event, url, name, shell));
    else if (ours.has(url.pathname)) event.respondWith(file(request, url));
    else if (HASHED.test(url.pathname)) event.respondWith(older(request));
  });
}

async function install(name, all) {
  await filled(name, all);
  await skipWaiting();
}

// What the cache should hold and does not, because it is new or the browser has cleared it, is fetched.
async function filled(name, all) {
  const cache = await caches.open(name);
  const here = new Set((await cache.keys()).map((request) => new URL(request.url).pathname));
  const missing = all.filter((url) => !here.has(new URL(url, location.href).pathname));
  await cache.addAll(missing.map((url) => new Request(url, { cache: HASHED.test(url) ? "default" : "reload" })));
}

// Pages that are open may be of the version before: its files stay, those of earlier ones go.
async function activate(name) {
  const names = (await caches.keys()).filter((each) => each.startsWith(CACHE));
  const before = names.filter((each) => each !== name).at(-1);
  await Promise.all(names.filter((each) => ![name, before].includes(each)).map((each) => caches.delete(each)));
  await clients.claim();
  await tidy().catch(() => {});
  if (before) await takeAgain(); // what was saved by another version, while there is signal
}

async function takeAgain() {
  try {
    for (const { url } of await saved()) await take(url);
  } catch {
    // Without signal or signed out: the copies stay as they are.
  }
}

async function sendAll(phone) {
  const { own, others, why } = await sendWaiting(phone);
  if (own + others && why === "signal") throw new Error("no signal yet"); // the browser asks again later
}

// From the server; where that fails, or a copy is here and nothing comes for a while, the shell shows what is saved.
async function page(event, url, name, shell) {
  const copy = await copyAt(url.pathname).catch(() => null);
  const asked = fetch(event.request);
  if (!copy) return asked.catch(() => shown(name, shell));
  const slow = new Promise((resolve) => { setTimeout(resolve, PATIENCE_MS, null); });
  const response = await Promise.race([asked.catch(() => null), slow]);
  asked.catch(() => {});
  return response && response.status < 500 ? response : shown(name, shell);
}

async function shown(name, shell) {
  return (await (await caches.open(name)).match(shell)) ?? (await caches.match(shell)) ?? Response.error();
}

// A name that changes with the content is as good from the cache; any other is asked for first.
async function file(request, url) {
  if (HASHED.test(url.pathname)) return older(request);
  try {
    return await fetch(request);
  } catch {
    return (await caches.match(request, { ignoreVary: true })) ?? Response.error();
  }
}

// Also of the version before, for a page that was opened with it.
async function older(request) {
  return (await caches.match(request, { ignoreVary: true })) ?? fetch(request);
}
