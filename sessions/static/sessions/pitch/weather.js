// Thunder and heat: a clock of half an hour from the last thunder, and an estimate from two figures. Advice, never a permit.

import { digits } from "./clock.js";

const SAID_AFTER_MS = 10 * 60 * 1000; // so long it stands there that the half hour is over
const T = [-30, 60];
const RH = [0, 100];

// As sessions/planning/weather.py works it out, where the formula has its source; a test asks both for the same figures.
export function wbgt(celsius, humidity) {
  const saturated = 6.105 * Math.exp((17.27 * celsius) / (237.7 + celsius));
  return 0.567 * celsius + (0.393 * humidity) / 100 * saturated + 3.94;
}

export function band(bands, degrees) {
  return bands.find((each) => each.upper_c === null || degrees < each.upper_c);
}

// How the clock of the last thunder stands: ms left, 0 once it is over; null without one.
export function left(thunder, minutes, now) {
  return thunder === null ? null : Math.max(0, Math.min(minutes * 60_000, thunder + minutes * 60_000 - now));
}

export class Weather {
  constructor({ data, words, fill, add, last }) {
    Object.assign(this, { ...data.weather, words, fill, add, thunder: null });
    this.box = document.getElementById("thunder");
    this.form = document.getElementById("heat");
    this.said = document.getElementById("heat-said");
    for (const button of document.querySelectorAll("[data-thunder]")) {
      button.addEventListener("click", () => add("thunder"));
    }
    // A slip, on whichever phone it was.
    document.getElementById("no-thunder").addEventListener("click", () => {
      const event = last("thunder", this.thunder);
      if (event) add("undone", { event: event.id });
    });
    // A helper's page has no heat.
    this.form?.addEventListener("submit", (event) => { event.preventDefault(); this.#typed(); });
  }

  draw(state) {
    this.thunder = state.thunder;
    if (state.heat) this.#show(state.heat);
  }

  // Whether the clock runs, drawn; what the pocket screen says while it does.
  tick(now) {
    const ms = left(this.thunder, this.wait_min, now);
    const over = ms === 0 && now - this.thunder < this.wait_min * 60_000 + SAID_AFTER_MS;
    this.box.hidden = !(ms > 0 || over);
    if (this.box.hidden) return null;
    const text = ms > 0 ? digits(ms / 1000) : "";
    const line = ms > 0 ? this.words.off_the_pitch : this.fill(this.words.no_thunder, { n: this.wait_min });
    this.box.classList.toggle("over", over);
    for (const [name, value] of [["b", line], [".thunder-left", text]]) {
      const element = this.box.querySelector(name);
      if (element.textContent !== value) element.textContent = value;
    }
    return ms > 0 ? { line, text } : null;
  }

  #typed() {
    const [temperature, humidity] = ["temperature", "humidity"].map((name) => Number.parseFloat(this.form.elements[name].value.replace(",", ".")));
    const fine = (value, [from, to]) => value >= from && value <= to;
    if (!fine(temperature, T) || !fine(humidity, RH)) {
      this.said.replaceChildren(this.words.heat_odd);
      return this.form.elements[fine(temperature, T) ? "humidity" : "temperature"].focus();
    }
    this.add("heat", { temperature_c: temperature, humidity_pct: humidity });
  }

  #show({ temperature, humidity }) {
    const degrees = wbgt(temperature, humidity);
    const { name, advice } = band(this.bands, degrees);
    const values = { t: temperature, h: humidity, w: degrees.toFixed(1), band: name };
    const line = (tag, text) => Object.assign(document.createElement(tag), { textContent: text });
    this.said.replaceChildren(line("b", this.fill(this.words.heat, values)), line("p", advice), line("small", this.source));
  }
}
