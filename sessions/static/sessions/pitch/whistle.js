// The whistle: at the end of a round, a rest and a part the phone vibrates and, where that is switched on, sounds.
// Both happen here alone. A page may sound only after a tap: the first one after it was opened unlocks it.

import { elapsed, face } from "./clock.js";
import { remember, remembered } from "./kept.js";

const LATE_S = 5; // what ended longer ago, while the page slept, is not whistled any more
const GAP_S = 0.18;
const BLASTS = { bout: [0.9], rest: [0.25, 0.25], part: [0.5, 0.5, 0.9] }; // seconds each
const TONES_HZ = [2800, 3150];
const TRILL = { hz: 32, depth: 160 }; // what the pea does

export class Whistle {
  constructor(words) {
    this.words = words;
    this.Context = globalThis.AudioContext ?? globalThis.webkitAudioContext;
    this.shakes = typeof navigator.vibrate === "function";
    this.button = document.getElementById("whistle");
    this.said = document.getElementById("whistle-said");
    this.on = remembered("whistle") === "on";
    this.button.addEventListener("click", () => this.#turn(!this.on));
    document.getElementById("try-whistle").addEventListener("click", async () => { await this.#unlock(); this.#blow("bout", true); });
    for (const kind of ["click", "keydown"]) addEventListener(kind, () => { if (this.on) this.#unlock(); }, { capture: true });
    this.#draw();
  }

  // Told at every tick what runs. What passed since the last tick, by the clock and not by a tap, is heard once.
  heed({ key, part, own }, started) {
    const at = started === null ? null : elapsed(started, own, Date.now());
    const before = this.key === key ? this.at : null;
    Object.assign(this, { key, at });
    if (at === null || before === null || own.heldSince !== null || own.ended !== null) return;
    const { all } = face(part, own, started, Date.now());
    const over = all.findLast((spell) => before < spell.to && spell.to <= at);
    if (over && at - over.to < LATE_S) this.#blow(over === all.at(-1) ? "part" : over.kind === "rest" ? "rest" : "bout");
  }

  #turn(on) {
    this.on = on;
    remember("whistle", on ? "on" : "off");
    if (on) this.#unlock();
    this.#draw();
  }

  async #unlock() {
    if (!this.Context) return;
    try {
      this.context ??= Object.assign(new this.Context(), { onstatechange: () => this.#draw() });
      if (this.context.state !== "running") await this.context.resume();
    } catch {
      this.Context = null;
    }
    this.#draw();
  }

  #blow(what, tried = false) {
    navigator.vibrate?.(BLASTS[what].flatMap((length) => [length * 600, GAP_S * 1000]).slice(0, -1));
    if (this.context?.state !== "running" || !(this.on || tried)) return;
    let at = this.context.currentTime;
    for (const length of BLASTS[what]) {
      blast(this.context, at, length);
      at += length + GAP_S;
    }
  }

  #draw() {
    this.button.setAttribute("aria-pressed", String(this.on));
    this.said.textContent = this.words[this.#state()];
  }

  #state() {
    if (!this.Context) return this.shakes ? "no_sound" : "neither";
    if (!this.on) return this.shakes ? "whistle_off" : "whistle_off_still";
    if (this.context?.state !== "running") return "whistle_tap";
    return this.shakes ? "whistle_on" : "no_shake";
  }
}

// One blast of a pea whistle, made here: two tones close together, shaken by the pea.
function blast(context, at, length) {
  const loud = context.createGain();
  loud.gain.setValueAtTime(0, at);
  loud.gain.linearRampToValueAtTime(0.45, at + 0.02);
  loud.gain.setValueAtTime(0.45, at + length - 0.06);
  loud.gain.linearRampToValueAtTime(0, at + length);
  loud.connect(context.destination);
  const depth = context.createGain();
  depth.gain.value = TRILL.depth;
  const pea = context.createOscillator();
  pea.frequency.value = TRILL.hz;
  pea.connect(depth);
  const tones = TONES_HZ.map((hz) => {
    const tone = context.createOscillator();
    tone.type = "square";
    tone.frequency.value = hz;
    depth.connect(tone.frequency);
    tone.connect(loud);
    return tone;
  });
  for (const each of [pea, ...tones]) {
    each.start(at);
    each.stop(at + length);
  }
}
