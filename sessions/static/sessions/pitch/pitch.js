// The page at the pitch: one thing and the next. Everything it needs came with it; what happens is kept and sent.

import { face, wall } from "./clock.js";
import { clockTexts } from "./clock_texts.js";
import { Drawn } from "./drawn.js";
import { fold, running } from "./fold.js";
import { onHold } from "./hold_to_press.js";
import { remembered } from "./kept.js";
import { byThisClock, savedCopy } from "./copy.js";
import { parts } from "./parts.js";
import { pressing, stands } from "./press.js";
import { RegisterView } from "./register.js";
import { TurnOut } from "./turnout.js";
import { undoing } from "./undo.js";
import { put, write } from "./write.js";
import { Outbox } from "../phone/outbox.js";
import { aheadOf } from "../phone/settled.js";

const TICK_MS = 250;
const FURTHER_MS = 3000;
const NEWS_MS = 20_000; // what other phones sent, a thunder among it, is asked for so often
const SENDING_MS = 1500;
const STALE_MS = 45 * 60 * 1000;
// As it was served, before anything changes it: what a phone keeps for times without signal.
const served = `<!doctype html>${document.documentElement.outerHTML}`;
const data = JSON.parse(document.getElementById("evening").textContent);
const about = JSON.parse(document.getElementById("about").textContent); // what this page says of itself
const { words } = data;
const ahead = document.getElementById("pitch").dataset.ahead ?? aheadOf(about.now); // of a saved copy, as it was then
byThisClock(data, Number(ahead));
const root = document.getElementById("pitch");
const isSaved = root.dataset.savedAt !== undefined; // a copy that this phone kept
const next = document.getElementById("next");
const keys = data.parts.map((part) => part.key);
const articles = new Map([...document.querySelectorAll("[data-part]")].map((each) => [each.dataset.part, each]));
const turned = new Map();
const drawn = new Drawn(articles, turned);
const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
let log = [];
let state = fold(log, keys);
let sending = null;
let looked = null; // a part looked at from the list, while another runs
const helper = "helper" in root.dataset; // a phone without an account: the clock and a count of heads, no names
const nothing = { draw() {} }; // what a helper's page has none of
let tonight, endings, trialists, weather, whistle, changes, heads, phone; // they come after the clock runs

const { texts, wristwatch } = clockTexts({ data, words, fill });
const at = (event) => ({ get device() { return queue.device; }, ...event, ms: Date.parse(event.at) });

const queue = new Outbox({
  ...about,
  url: about.events,
  token: isSaved ? "" : token(),
  since: data.seq,
  ahead: Number(ahead),
  changed: unsent,
  arrived: (events, { plan, state: standing }) => {
    if (plan) copy.fresh({ plan, standing });
    const known = new Set(log.map((event) => event.id));
    const news = events.filter((event) => !known.has(event.id));
    if (news.length) { log = [...log, ...news]; again(); }
  },
  refused: (rows) => {
    const ids = new Set(rows.map((row) => row.id));
    log = log.filter((event) => !ids.has(event.id));
    notTaken();
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
  changes?.draw(state);
  endings?.draw(state);
  heads?.draw(state);
  draw();
}

// ---- which part -------------------------------------------------------------------------------------------------

const { current, following, started, untouched } = parts({ data, keys, now: () => state });

function partOf(key) {
  const index = keys.indexOf(key);
  return { key, index, part: data.parts[index], own: state.parts.get(key), article: articles.get(key) };
}

const shown = () => partOf(looked ?? current());
const look = (key) => { looked = key; };

function rungOf({ part, own }) {
  const index = own.rung === null ? part.rung : part.rungs.findIndex((rung) => rung.key === own.rung);
  return part.rungs[index < 0 ? part.rung : index];
}

// ---- drawing ----------------------------------------------------------------------------------------------------

function draw() {
  if (!keys.length) return;
  const now = shown();
  for (const [key, article] of articles) article.hidden = key !== now.key;
  const rung = rungOf(now);
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
  const at = keys.indexOf(looked ?? current());
  const waits = looked || started(at) === null || (untouched() && root.dataset.view === "register");
  const target = waits ? at : following(at);
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
  wristwatch(now, clock, started(now.index) ?? now.part.from);
  const pause = now.article.querySelector(".pause");
  write(pause, now.own.heldSince === null ? words.pause : words.go_on);
  pause.disabled = now.own.heldSince === null && ["wait", "over"].includes(clock.run);
  const on = partOf(current()); // whatever is looked at
  const runs = looked ? texts(face(on.part, on.own, started(on.index), Date.now()), on) : text;
  write(document.getElementById("pocket-now"), thunder?.text ?? runs.digits);
  write(document.getElementById("pocket-line"), thunder?.line ?? runs.bout);
  write(document.getElementById("pocket-then"), runs.then);
  whistle?.heed(on, started(on.index));
  changes?.tick(now, clock);
}

// ---- what is pressed ----------------------------------------------------------------------------------------------

const pressed = {
  turn(now) {
    const degrees = ((turned.get(now.key) ?? 0) + 90) % 360;
    turned.set(now.key, degrees);
    drawn.upright(now.part);
  },
  numbers(now) {
    go(helper ? "register" : "numbers");
    tonight?.numbers.open(now.part, rungOf(now)?.key ?? "");
  },
};

// It has happened at the server already.
function atServer(event) {
  log.push(event);
  again();
}

// ---- which page of the page ---------------------------------------------------------------------------------------

function go(view) {
  if (location.hash !== `#${view}`) location.hash = view;
  show();
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

// Before the first part the register; else the clock. What is left to record once the last part has ended, or the pitch is
// cleared and nothing runs; long after that also where nobody ended what ran.
function first() {
  const over = Date.now() - data.off;
  if (over > (running(state) ? STALE_MS : 0) || state.parts.get(keys.at(-1))?.ended) return "after";
  if (running(state)) return "part";
  return [...state.parts.values()].some((part) => part.started) || state.register.size ? "part" : "register";
}

function unsent() {
  const count = queue.waiting.length;
  const line = document.getElementById("unsent");
  root.dataset.unsent = count;
  const text = count === 1 ? words.one_unsent : fill(words.unsent, { n: count });
  const why = { "signed-out": words.sign_in, another: words.another_account, gone: words.gone }[queue.trouble];
  const trouble = why ?? (queue.keeps ? "" : words.not_kept);
  clearTimeout(sending);
  // What goes through at once is not worth a line that moves the clock.
  const waits = queue.trouble || !queue.keeps || !line.hidden;
  line.hidden = !count || !waits;
  if (count && !waits) sending = setTimeout(() => { line.hidden = !queue.waiting.length; }, SENDING_MS);
  line.replaceChildren([count ? text : "", count ? trouble : ""].filter(Boolean).join(". "));
  if (count && ["signed-out", "another"].includes(queue.trouble)) {
    line.append(" ", Object.assign(document.createElement("a"), { href: root.dataset.signIn, textContent: words.sign_in_link }));
  }
  endings?.sent();
}

// Where the thumb is, on every view, until it was read: also what was refused while the page was closed.
function notTaken() {
  const box = document.getElementById("refused");
  const { aside } = queue;
  box.hidden = !aside.length;
  const texts = new Set(aside.map((row) => fill(words.refused, { text: row.refused || words.unreadable })));
  box.firstElementChild.textContent = [...texts].join(" ");
}

const undo = undoing({ add, words });
const { begun, onwards, finish, thumbs } = pressing({ add, undo, words, fill, go, keys, current, started, shown, rungOf, now: () => state, look });
Object.assign(pressed, thumbs);
const turnOut = new TurnOut(data);
const register = helper ? nothing : new RegisterView({ data, url: root.dataset.guests, words, add, fill, undo });
document.documentElement.toggleAttribute("data-left", remembered("hand") === "left");
// Large text wraps the tools: what scrolls ends above them. What stands above the clock takes from the plan.
const tools = document.querySelector(".tools");
new ResizeObserver(() => root.style.setProperty("--tools", `${tools.offsetHeight}px`)).observe(tools);
const above = document.querySelector(".above");
new ResizeObserver(() => root.style.setProperty("--above", `${above.offsetHeight}px`)).observe(above);
root.addEventListener("click", (event) => {
  event.target.closest(".condition")?.classList.toggle("whole");
  const what = event.target.closest("[data-do]")?.dataset.do ?? (event.target.closest(".plan") ? "turn" : "");
  if (pressed[what]) pressed[what](shown());
});
document.getElementById("begin").addEventListener("click", () => {
  const done = untouched() && keys.length ? [add("part_started", { part: current() })] : [];
  go("part");
  if (done.length) undo(fill(words.has_begun, { n: keys.indexOf(current()) + 1 }), done);
});
onHold(next, () => onwards(Number(next.dataset.target)), () => undo(words.press_again, []), () => undo(words.press_longer, []));
addEventListener("hashchange", show);
document.getElementById("refused-read").addEventListener("click", async () => {
  await queue.forget(queue.aside.map((row) => row.id));
  notTaken();
});
const copy = savedCopy({ about, words, fill, savedAt: isSaved ? Number(root.dataset.savedAt) : null, ahead: Number(ahead) });
// The club says of a register's tap from which phone it came; what this phone keeps of its own does not.
log.push(...(await queue.open(data.events, isSaved)).map((event) => ({ device: queue.device, ...event })));
register.device = queue.device; // as this phone calls itself, which it has looked up now
// What this phone has not sent yet has happened all the same.
const known = new Set(log.map((event) => event.id));
log.push(...queue.waiting.filter((event) => !known.has(event.id)).map(at));
again();
show();
unsent();
notTaken();
queue.send();
setInterval(tick, TICK_MS);
document.addEventListener("visibilitychange", () => { if (!document.hidden) tick(); });
setInterval(() => { if (!document.hidden) queue.send(); }, NEWS_MS);

// What the clock does not wait for.
async function further() {
  try {
    const sheet = Object.assign(document.createElement("link"), { rel: "stylesheet", href: root.dataset.later });
    const styled = new Promise((done) => { sheet.onload = sheet.onerror = done; });
    document.head.append(sheet);
    const [change, rest, sky, loud, keeps] = await Promise.all([
      import("./changes.js"), import("./more.js"), import("./weather.js"), import("./whistle.js"), import("../phone/saved.js"), styled,
    ]);
    phone ??= new keeps.Saved({ of: about, page: isSaved ? null : served, words, ahead: Number(ahead), queue, happened: () => log });
    const last = (kind, ms) => log.findLast((event) => event.kind === kind && event.ms === ms);
    await (helper ? counting() : staff());
    rest.more({ words, look: (key) => { look(key === current() ? null : key); go("part"); } });
    weather = new sky.Weather({ data, words, fill, add, last });
    whistle = new loud.Whistle(words);
    const latest = (test) => log.findLast((event) => test(event) && !state.undone.has(event.id));
    const ran = () => !untouched() || started(0) !== null;
    changes = new change.Changes({ add, undo, words, fill, begun, finish, ran, last: latest, look });
    Object.assign(pressed, changes.pressed);
    root.dataset.whole = "";
    again();
    tonight?.stand(root.dataset.view);
    phone.start();
  } catch {
    setTimeout(further, FURTHER_MS);
  }
}
further();

// For staff: numbers, trialists, the register's other words, and what is recorded once it is over.
async function staff() {
  const [late, two, own, tried] = await Promise.all([
    import("./after.js"), import("./apart.js"), import("./tonight/tonight.js"), import("./tonight/trialists.js"),
  ]);
  register.saidApart = two.apart({ words, fill, device: queue.device });
  endings = late.after({ data, add, words, fill, undo, register, waiting: () => queue.waiting.length });
  tonight ??= new own.Tonight({
    root, data, words, fill, token, turnOut, articles, add, undo, shown, go, again, known: atServer, along: () => phone.along(),
    upright: (part) => drawn.upright(part), happened: () => log,
  });
  trialists = new tried.Trialists({ words, add, fill, undo, most: data.most_trialists });
}

async function counting() {
  const own = await import("./tonight/heads.js");
  heads = new own.Heads({ data, words, fill, add, turnOut });
}
