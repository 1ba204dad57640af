// The page at the pitch: one thing and the next. Everything it needs came with it; what happens is kept and sent.

import { after } from "./after.js";
import { face, wall } from "./clock.js";
import { clockTexts } from "./clock_texts.js";
import { Drawn } from "./drawn.js";
import { fold, running } from "./fold.js";
import { onHold } from "./hold_to_press.js";
import { more } from "./more.js";
import { Queue } from "./queue.js";
import { RegisterView } from "./register.js";
import { TurnOut } from "./turnout.js";
import { undoing } from "./undo.js";

const TICK_MS = 250;
const FURTHER_MS = 3000;
const NEWS_MS = 20_000; // what other phones sent, a thunder among it, is asked for so often
const STALE_MS = 45 * 60 * 1000;
const data = JSON.parse(document.getElementById("evening").textContent);
const { words } = data;
const root = document.getElementById("pitch");
const next = document.getElementById("next");
const keys = data.parts.map((part) => part.key);
const articles = new Map([...document.querySelectorAll("[data-part]")].map((each) => [each.dataset.part, each]));
const turned = new Map();
const drawn = new Drawn(articles, turned);
const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
let log = [];
let state = fold(log, keys);
let looked = null; // a part looked at from the list, while another runs
let heard = "";
let tonight, trialists, weather; // they come after the clock runs

const say = (text) => { document.getElementById("said").textContent = text; };
const { texts, rounds } = clockTexts({ data, words, fill });
const at = (event) => ({ ...event, ms: Date.parse(event.at) });

const queue = new Queue({
  session: data.session,
  url: root.dataset.events,
  token,
  since: data.seq,
  now: data.now,
  changed: unsent,
  arrived: (events) => { if (events.length) { log = [...log, ...events]; again(); } },
  refused: (outcome) => {
    log = log.filter((event) => event.id !== outcome.id);
    notTaken(fill(words.refused, { text: outcome.text || words.unreadable }));
    again();
  },
});

function add(kind, body, ms) {
  const event = queue.add(kind, body, ms);
  log.push(at(event));
  again();
  return event;
}

function again() {
  state = fold(log, keys);
  turnOut.draw(state);
  register.draw(state);
  trialists?.draw(state);
  tonight?.draw(state);
  weather?.draw(state);
  endings.draw(state);
  draw();
}

// ---- which part -------------------------------------------------------------------------------------------------

function current() {
  const last = keys.findLast((key) => state.parts.get(key).started !== null);
  return running(state) ?? last ?? keys[0];
}

const untouched = () => [...state.parts.values()].every((part) => part.started === null);

function started(index) {
  const own = state.parts.get(keys[index]).started;
  // Nobody pressed anything: the first part runs from its planned start, as the wristwatch does.
  return own ?? (index === 0 && untouched() && Date.now() >= data.parts[0].from ? data.parts[0].from : null);
}

function shown() {
  const key = looked ?? current();
  const index = keys.indexOf(key);
  return { key, index, part: data.parts[index], own: state.parts.get(key), article: articles.get(key) };
}

function rungOf({ part, own }) {
  const index = own.rung === null ? part.rung : part.rungs.findIndex((rung) => rung.key === own.rung);
  return index < 0 ? part.rung : index;
}

// ---- drawing ----------------------------------------------------------------------------------------------------

function draw() {
  if (!keys.length) return;
  const now = shown();
  for (const [key, article] of articles) article.hidden = key !== now.key;
  const rung = now.part.rungs[rungOf(now)];
  for (const each of now.article.querySelectorAll("[data-rung]")) {
    each.hidden = each.dataset.rung !== rung?.key || (each.classList.contains("rung") && rung.side === "base");
  }
  const tonight = now.own.setup && now.article.querySelector('[data-plan="tonight"]');
  for (const each of now.article.querySelectorAll("[data-plan]")) {
    each.hidden = each !== tonight && (Boolean(tonight) || each.dataset.plan !== String(rung?.plan));
  }
  fitted(now);
  disable(now, "easier", !stands(rung?.easier), words.no_easier);
  disable(now, "harder", !stands(rung?.harder), words.no_harder);
  forward();
  tick();
}

function fitted({ article, own }) {
  const line = article.querySelector(".fitted");
  line.hidden = !own.setup;
  if (own.setup) line.textContent = fill(words.tonight, { numbers: own.setup.numbers, size: `${own.setup.length_m} × ${own.setup.width_m} m` });
}

function disable({ article }, what, off, why) {
  const button = article.querySelector(`[data-do="${what}"]`);
  button.disabled = off;
  button.title = off ? why : "";
}

function forward() {
  const index = looked ? keys.indexOf(looked) - 1 : keys.indexOf(current());
  const none = untouched() && !looked && (started(0) === null || root.dataset.view === "register");
  const target = none ? 0 : index + 1;
  next.dataset.target = target;
  const text = target >= keys.length ? words.hold_end : fill(words.hold_next, { n: target + 1 });
  next.firstElementChild.textContent = text;
  document.getElementById("begin").textContent = untouched() ? words.begin : words.to_clock;
}

function tick() {
  const thunder = weather?.tick(Date.now());
  if (!keys.length) return;
  const now = shown();
  const clock = face(now.part, now.own, started(now.index), Date.now());
  const text = texts(clock, now);
  put(now.article.querySelector(".clock"), "run", clock.run);
  write(now.article.querySelector(".digits"), text.digits);
  write(now.article.querySelector(".bout"), text.bout);
  write(now.article.querySelector(".then"), [text.then, tonight?.teams.offNext(now, clock)].filter(Boolean).join(", "));
  write(now.article.querySelector(".clock-now"), fill(words.now, { time: wall(Date.now()) }));
  write(document.getElementById("pocket-now"), thunder?.text ?? text.digits);
  write(document.getElementById("pocket-line"), thunder?.line ?? text.bout);
  write(document.getElementById("pocket-then"), text.then);
  times(now, clock);
  signal(`${now.key} ${clock.run === "held" ? heard : `${clock.spell?.kind ?? clock.run} ${clock.spell?.n ?? 0}`}`, clock);
}

// The bouts by the clock on the wall, as this part really runs.
function times(now, clock) {
  const line = now.article.querySelector(".times");
  if (!line) return;
  write(line, rounds(now, clock, started(now.index) ?? now.part.from));
  for (const row of now.article.querySelectorAll("[data-turn]")) {
    row.classList.toggle("is-now", clock.spell?.kind === "bout" && Number(row.dataset.turn) === clock.spell.n);
  }
}

// A bout that begins or ends is felt, where the phone can; it is never the only sign.
function signal(what, clock) {
  if (what === heard) return;
  const first = heard === "";
  heard = what;
  if (!first && !["wait", "held"].includes(clock.run)) navigator.vibrate?.([300, 150, 300]);
}

function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

function put(element, name, value) {
  if (element.dataset[name] !== value) element.dataset[name] = value;
}

// ---- what is pressed ----------------------------------------------------------------------------------------------

const pressed = {
  hold(now) {
    if (started(now.index) === null) return;
    if (now.own.started === null) add("part_started", { part: now.key }, started(now.index));
    add(now.own.heldSince === null ? "bout_held" : "bout_resumed", { part: now.key });
  },
  turn(now) {
    const degrees = ((turned.get(now.key) ?? 0) + 90) % 360;
    turned.set(now.key, degrees);
    drawn.upright(now.part);
  },
  easier: (now) => climb(now, "easier", "easier"),
  harder: (now) => climb(now, "harder", "harder"),
  back: (now) => climb(now, "back", now.part.rungs[rungOf(now)]?.side === "easier" ? "harder" : "easier"),
  minute(now) {
    add("minute_more", { part: now.key, minutes: 1 });
    say(words.one_more);
  },
  numbers(now) {
    go("numbers");
    tonight?.numbers.open(now.part, now.part.rungs[rungOf(now)]?.key ?? "");
  },
};

// The server says where each rung leads: the key of another one, empty for the drill as written, or nothing.
const stands = (key) => typeof key === "string";

function climb(now, way, kind) {
  const to = now.part.rungs[rungOf(now)]?.[way];
  if (stands(to)) add(kind, { part: now.key, to });
}

function onwardsNow() {
  const target = Number(next.dataset.target);
  looked = null;
  if (target < keys.length) {
    add(target === 0 ? "part_started" : "next_part", { part: keys[target] });
    go("part");
  } else {
    add("part_ended", { part: current() });
    go("after");
  }
  scrollTo(0, 0);
}

// It has happened at the server already.
function atServer(event) {
  log.push(event);
  again();
}

// ---- which page of the page ---------------------------------------------------------------------------------------

function go(view) {
  if (location.hash !== `#${view}`) location.hash = view;
  else show();
}

function show() {
  const wanted = location.hash.slice(1);
  const view = document.querySelector(`[data-shows="${CSS.escape(wanted)}"]`) ? wanted : first();
  root.dataset.view = view;
  tonight?.stand(view);
  next.hidden = !["part", "register"].includes(view) || !keys.length;
  for (const section of document.querySelectorAll("[data-shows]")) section.hidden = section.dataset.shows !== view;
  for (const link of document.querySelectorAll("[data-to]")) {
    if (link.dataset.to === view) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
  scrollTo(0, 0);
  draw();
}

// Before the first part the register; long after the end what is left to record; else the clock.
function first() {
  if (running(state)) return "part";
  if (Date.now() > data.off + STALE_MS) return "after";
  return [...state.parts.values()].some((part) => part.started) || state.register.size ? "part" : "register";
}

function unsent() {
  const count = queue.waiting.length;
  const line = document.getElementById("unsent");
  const text = count === 1 ? words.one_unsent : fill(words.unsent, { n: count });
  const trouble = queue.signedOut ? words.sign_in : !queue.keeps ? words.not_kept : "";
  line.hidden = !count;
  line.replaceChildren([count ? text : "", count ? trouble : ""].filter(Boolean).join(". "));
  if (count && queue.signedOut) {
    line.append(" ", Object.assign(document.createElement("a"), { href: root.dataset.signIn, textContent: words.sign_in_link }));
  }
}

// Where the thumb is, on every view, until it was read.
function notTaken(text) {
  const box = document.getElementById("refused");
  box.firstElementChild.textContent = text;
  box.hidden = false;
}

const undo = undoing({ add, words });
const turnOut = new TurnOut(data);
const register = new RegisterView({ data, url: root.dataset.guests, words, add, fill, undo });
const endings = after({ add, words, fill, minutes: () => Math.round((Date.now() - (started(0) ?? data.starts)) / 60000) });
more({ words, look: (key) => { looked = key === current() ? null : key; go("part"); } });
root.addEventListener("click", (event) => {
  event.target.closest(".condition")?.classList.toggle("whole");
  const what = event.target.closest("[data-do]")?.dataset.do ?? (event.target.closest(".plan") ? "turn" : "");
  if (pressed[what]) pressed[what](shown());
});
document.getElementById("begin").addEventListener("click", () => {
  if (untouched() && keys.length) add("part_started", { part: keys[0] });
  go("part");
});
onHold(next, onwardsNow, () => say(words.press_again));
addEventListener("hashchange", show);
document.getElementById("refused-read").addEventListener("click", () => { document.getElementById("refused").hidden = true; });
log.push(...data.events.map((event) => queue.here(event)));
// What this phone has not sent yet has happened all the same.
const known = new Set(log.map((event) => event.id));
log.push(...queue.waiting.filter((event) => !known.has(event.id)).map(at));
again();
show();
unsent();
queue.send();
setInterval(tick, TICK_MS);
setInterval(() => { if (!document.hidden) queue.send(); }, NEWS_MS);

// What the clock does not wait for.
async function further() {
  try {
    const [own, tried, sky] = await Promise.all([import("./tonight.js"), import("./trialists.js"), import("./weather.js")]);
    const last = (kind, ms) => log.findLast((event) => event.kind === kind && event.ms === ms);
    tonight ??= new own.Tonight({ root, data, words, fill, token, turnOut, articles, add, undo, known: atServer, shown, say, go, again, upright: (part) => drawn.upright(part), happened: () => log });
    trialists = new tried.Trialists({ words, add, fill, undo, most: data.most_trialists });
    weather = new sky.Weather({ data, words, fill, add, last });
    root.dataset.whole = "";
    again();
    tonight.stand(root.dataset.view);
  } catch {
    setTimeout(further, FURTHER_MS);
  }
}
further();
