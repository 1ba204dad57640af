// A plan in motion. The page holds the still and links to every step; this fetches the moving drawing when somebody
// first asks for it and moves it by the drawing's own clock: paused always, and set to the time that is wanted.

const TENTH = 0.1;
const LONGEST_FRAME_S = 0.1; // after a pause of the browser, play goes on from where it was
const calm = matchMedia("(prefers-reduced-motion: reduce)");

class Motion {
  constructor(root) {
    this.root = root;
    this.marks = root.dataset.marks.split(" ").map(Number);
    this.turn = root.dataset.turn;
    this.speed = 1;
    this.time = this.start(Number(root.dataset.step) || 1);
    this.one("[data-bar]").hidden = false;
    this.range = this.one("[data-time]");
    this.range.value = this.time;
    this.button = this.one('[data-do="play"]');
    this.listen();
    this.soothe();
    this.say();
  }

  one(selector) { return this.root.querySelector(selector); }
  all(selector) { return [...this.root.querySelectorAll(selector)]; }
  get ends() { return this.marks.at(-1); }
  get steps() { return this.marks.length - 1; }
  get svg() { return this.one("[data-sheet] > svg"); }
  get moving() { return this.svg.dataset.moving === this.turn; }
  get playing() { return this.frame !== undefined; }
  start(step) { return step < 1 ? 0 : this.marks[step - 1]; }
  step() { return Math.max(1, this.marks.slice(0, -1).filter((mark) => mark <= this.time + 1e-6).length); }
  // At the very end the last step has been played; nothing starts there.
  atStart() { return this.time < this.ends && Math.abs(this.time - this.start(this.step())) < 1e-6; }

  listen() {
    const doing = { back: () => this.jump(-1), on: () => this.onward(), play: () => this.toggle(), turn: () => this.turned(quarter(this.turn)) };
    for (const button of this.all("[data-do]")) {
      button.addEventListener("click", (event) => {
        if (elsewhere(event)) return;
        event.preventDefault();
        doing[button.dataset.do]();
      });
    }
    this.range.addEventListener("input", () => this.scrub(Number(this.range.value)));
    this.one("[data-speed] select").addEventListener("change", (event) => { this.speed = Number(event.target.value); });
    for (const link of this.all("[data-to], [data-turn-to]")) {
      link.addEventListener("click", (event) => {
        if (elsewhere(event)) return;
        event.preventDefault();
        if (link.dataset.to) this.go(this.start(Number(link.dataset.to)), Number(link.dataset.to));
        else this.turned(link.dataset.turnTo);
      });
    }
    this.root.addEventListener("keydown", (event) => this.key(event));
    calm.addEventListener("change", () => this.soothe());
  }

  // Less motion: no play, and the slider goes from step to step.
  soothe() {
    if (calm.matches) this.hold();
    this.button.hidden = calm.matches;
    this.one("[data-speed]").hidden = calm.matches;
  }

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("select")) return;
    const onRange = event.target === this.range;
    if (event.key === " " && !event.target.closest("button, summary")) {
      event.preventDefault();
      if (!calm.matches) this.toggle();
    } else if (!onRange || calm.matches) {
      const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (!way) return;
      event.preventDefault();
      this.jump(way);
    }
  }

  scrub(time) {
    if (!calm.matches) return this.go(time);
    const near = this.marks.reduce((best, mark) => (Math.abs(mark - time) < Math.abs(best - time) ? mark : best));
    return this.go(near);
  }

  jump(way) {
    const next = way > 0 ? this.marks.find((mark) => mark > this.time + TENTH / 2) : this.marks.findLast((mark) => mark < this.time - TENTH / 2);
    return this.go(next ?? (way > 0 ? this.ends : 0));
  }

  // One step further, from the last to the start again.
  onward() {
    return this.time >= this.marks.at(-2) - TENTH / 2 ? this.go(this.time < this.ends ? this.ends : 0) : this.jump(1);
  }

  async go(time, step) {
    this.hold();
    this.time = Math.min(Math.max(time, 0), this.ends);
    this.show(step);
    if (await this.ready()) this.show(step);
  }

  async toggle() {
    if (this.playing) return this.hold();
    if (!(await this.ready())) return undefined;
    if (this.time >= this.ends) this.time = 0;
    let before;
    const on = (now) => {
      this.time += Math.min((now - (before ?? now)) / 1000, LONGEST_FRAME_S) * this.speed;
      before = now;
      if (this.time >= this.ends) {
        this.time = this.ends;
        this.hold();
      } else this.frame = requestAnimationFrame(on);
      this.show();
    };
    this.frame = requestAnimationFrame(on);
    this.button.textContent = this.button.dataset.hold;
    return undefined;
  }

  hold() {
    if (this.playing) cancelAnimationFrame(this.frame);
    this.frame = undefined;
    this.button.textContent = this.button.dataset.run;
  }

  async turned(degrees) {
    this.hold();
    this.turn = degrees;
    for (const link of this.all("[data-turn-to]")) current(link, link.dataset.turnTo === degrees);
    this.files({ turn: degrees });
    this.one("[data-as-is]").hidden = degrees === "0";
    if (await this.ready()) this.show();
  }

  // The moving drawing in place of the still, for the turn that is wanted. False when it can't be had.
  async ready() {
    if (this.moving) return true;
    const wanted = this.turn;
    this.fetched ??= {};
    this.fetched[wanted] ??= drawn(`${this.root.dataset.src}&turn=${wanted}`);
    const svg = await this.fetched[wanted];
    this.one("[data-lost]").hidden = svg !== null;
    if (svg === null) delete this.fetched[wanted];
    if (svg === null || wanted !== this.turn) return false;
    if (this.svg !== svg) this.svg.replaceWith(svg);
    svg.dataset.moving = wanted;
    svg.pauseAnimations();
    return true;
  }

  show(step = this.step()) {
    if (this.moving) {
      this.svg.setCurrentTime(this.time);
      const lanes = !this.playing && this.atStart() && step > 0 ? String(this.step()) : "";
      for (const group of this.svg.querySelectorAll(".lanes")) {
        group.setAttribute("display", group.dataset.step === lanes ? "inline" : "none");
      }
    }
    this.range.value = this.time;
    this.say(step);
  }

  say(step = this.step()) {
    const output = this.one("[data-now]");
    const text = output.dataset.words.replace("{n}", this.step()).replace("{all}", this.steps).replace("{s}", this.time.toFixed(1));
    output.value = text;
    this.range.setAttribute("aria-valuetext", text);
    if (this.told === step) return;
    if (this.told !== undefined || this.root.dataset.step) this.tell(step);
    this.told = step;
  }

  tell(step) {
    for (const link of this.all("[data-to]")) current(link, Number(link.dataset.to) === step);
    current(this.one("[data-whole]"), false);
    this.files({ step });
    for (const line of this.all("[data-said]")) line.hidden = Number(line.dataset.said) !== step;
    for (const fold of document.querySelectorAll("[data-moment]")) fold.open = Number(fold.dataset.moment) === step;
  }

  // What is taken along is what is seen: the links follow the step and the turn.
  files(asked) {
    for (const each of document.querySelectorAll("[data-file]")) {
      const held = each.matches("form") ? "action" : "href";
      const address = new URL(each[held]);
      for (const [name, value] of Object.entries(asked)) address.searchParams.set(name, value);
      each[held] = address;
    }
  }
}

// A click that the browser is to answer itself: another tab, another window.
const elsewhere = (event) => event.ctrlKey || event.metaKey || event.shiftKey || event.button > 0;
const quarter = (degrees) => String((Number(degrees) + 90) % 360);

function current(link, yes) {
  if (yes) link.setAttribute("aria-current", "true");
  else link.removeAttribute("aria-current");
}

// The drawing at an address, as an element of this page; null when it can't be had.
async function drawn(address) {
  try {
    const answer = await fetch(address, { headers: { Accept: "image/svg+xml" } });
    if (!answer.ok) return null;
    const read = new DOMParser().parseFromString(await answer.text(), "image/svg+xml");
    return document.importNode(read.documentElement, true);
  } catch (error) {
    if (error instanceof TypeError) return null; // no connection
    throw error;
  }
}

for (const root of document.querySelectorAll("[data-motion]")) {
  if (root.querySelector("[data-bar]")) new Motion(root);
}
