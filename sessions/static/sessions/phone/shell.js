// Without signal: the session of this address as it was saved on this phone, or what else is saved.

import { AT_THE_PITCH, copyAt, saved } from "./bundles.js";

const root = document.body;
const { run, schemesBy: schemes, schema } = root.dataset;
const words = JSON.parse(document.getElementById("words").textContent);
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
const day = new Intl.DateTimeFormat(document.documentElement.lang, { weekday: "short", day: "numeric", month: "short" });
const clock = new Intl.DateTimeFormat(document.documentElement.lang, { hour: "2-digit", minute: "2-digit" });

const scheme = /(?:^|; )scheme=(\w+)/.exec(document.cookie);
if (scheme) document.documentElement.dataset.scheme = scheme[1];

async function show() {
  const found = await copyAt(location.pathname);
  if (found && found.url !== location.pathname) return location.replace(found.url + location.hash);
  if (found && String(found.schema) === schema) return put(found);
  list(await saved(), found ? words.too_old : AT_THE_PITCH.test(location.pathname) ? words.not_saved : words.no_signal);
}

// The page as it was served; what it does, its own scripts do.
async function put(found) {
  const page = new DOMParser().parseFromString(found.page, "text/html");
  document.title = page.title;
  document.documentElement.lang = page.documentElement.lang;
  const main = page.getElementById("pitch");
  Object.assign(main.dataset, { savedAt: found.made_at + found.ahead, ahead: found.ahead });
  document.body.replaceChildren(...page.body.childNodes);
  document.body.className = page.body.className;
  await Promise.all([import(run), import(schemes)]);
}

function list(sessions, text) {
  document.getElementById("why").textContent = text;
  const rows = sessions.map((each) => {
    const row = document.createElement("li");
    const link = Object.assign(document.createElement("a"), { href: each.url, className: "button wide", textContent: `${each.title}, ${day.format(each.starts)} ${clock.format(each.starts)}` });
    const when = new Date(each.made_at + each.ahead);
    const line = Object.assign(document.createElement("small"), { className: "second", textContent: fill(words.saved_at, { time: `${day.format(when)} ${clock.format(when)}` }) });
    row.append(link, line);
    return row;
  });
  document.getElementById("sessions").replaceChildren(...rows);
  document.getElementById("none").hidden = rows.length > 0;
}

document.getElementById("again").addEventListener("click", () => location.reload());
show().catch(() => list([], words.no_storage));
