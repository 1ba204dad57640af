// The plan under the hand: from the finger to metres, what lies under it, and what is shown while it moves.
// It draws nothing of the plan itself: it moves the groups that the server drew and puts a ring round what is chosen.

const SVG = "http://www.w3.org/2000/svg";
const REACH_PX = { touch: 24, pen: 18, mouse: 14 };

export class Stage {
  // `hand` answers: hit(metres, reach) → thing; start, move, drop, cancel(thing, metres).
  constructor(holder, hand) {
    this.holder = holder;
    this.hand = hand;
    this.drag = null;
    holder.addEventListener("pointerdown", (event) => this.#down(event));
    holder.addEventListener("pointermove", (event) => this.#move(event));
    holder.addEventListener("pointerup", (event) => this.#up(event));
    holder.addEventListener("pointercancel", () => this.#cancel());
    // A quick stroke must not count as a flick of the page: the browser would swallow the tap that follows.
    holder.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
  }

  get busy() { return this.drag !== null; }

  show(text, sheet) {
    const read = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    this.svg?.remove();
    this.svg = document.importNode(read, true);
    this.sheet = sheet;
    this.over = made("g", { class: "hand", "aria-hidden": "true" });
    this.svg.append(this.over);
    this.holder.prepend(this.svg);
  }

  units([x, y]) {
    const { left_u, left_m, top_u, top_m, unit_per_m } = this.sheet;
    return [left_u + (x - left_m) * unit_per_m, top_u + (top_m - y) * unit_per_m];
  }

  metres(event) {
    const { left_u, left_m, top_u, top_m, unit_per_m } = this.sheet;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [left_m + (at.x - left_u) / unit_per_m, top_m - (at.y - top_u) / unit_per_m];
  }

  reach(event) {
    return (REACH_PX[event.pointerType] ?? REACH_PX.mouse) / (this.svg.getScreenCTM().a * this.sheet.unit_per_m);
  }

  // A ring round what is chosen, a line for a path that is being drawn, a frame with corners to pull for a zone.
  mark(ring, line = null, frame = null) {
    this.over.replaceChildren();
    if (frame) this.#frame(frame);
    if (line) {
      const [from, to] = line.map((each) => this.units(each));
      this.over.append(made("path", { class: "hand-line", d: `M${from.join(" ")}L${to.join(" ")}` }));
      this.over.append(made("circle", { class: "hand-end", cx: to[0], cy: to[1], r: 5 }));
    }
    if (ring) {
      const [cx, cy] = this.units(ring);
      this.over.append(made("circle", { class: "hand-ring", cx, cy, r: Math.max(11, this.sheet.radius_u * 1.7) }));
    }
  }

  #frame({ x_m, y_m, length_m, width_m }) {
    const [left, bottom] = this.units([x_m, y_m]);
    const [right, top] = this.units([x_m + length_m, y_m + width_m]);
    this.over.append(made("rect", { class: "hand-frame", x: left, y: top, width: right - left, height: bottom - top }));
    for (const x of [left, right]) for (const y of [bottom, top]) this.over.append(made("rect", { class: "hand-corner", x: x - 5, y: y - 5, width: 10, height: 10 }));
  }

  // Let the drawn groups of some keys stand elsewhere until the server has drawn them there.
  carry(keys, from, to) {
    const [a, b] = [this.units(from), this.units(to)];
    for (const key of keys) {
      const group = [...this.svg.querySelectorAll("[data-key]")].find((each) => each.dataset.key === key);
      if (!group) continue;
      group.dataset.own ??= group.getAttribute("transform") ?? "";
      group.setAttribute("transform", `translate(${b[0] - a[0]} ${b[1] - a[1]}) ${group.dataset.own}`);
    }
  }

  #down(event) {
    if (!this.svg || event.button > 0 || this.drag) return;
    event.preventDefault();
    this.holder.focus({ preventScroll: true });
    this.holder.setPointerCapture(event.pointerId);
    const at = this.metres(event);
    this.drag = { id: event.pointerId, thing: this.hand.hit(at, this.reach(event)), from: at, x: event.clientX, y: event.clientY, moved: false };
  }

  #move(event) {
    const drag = this.drag;
    if (!drag || drag.id !== event.pointerId) return;
    drag.moved ||= Math.hypot(event.clientX - drag.x, event.clientY - drag.y) > 5;
    if (drag.moved) this.hand.move(drag.thing, this.metres(event), drag.from);
  }

  #up(event) {
    const drag = this.drag;
    if (!drag || drag.id !== event.pointerId) return;
    this.drag = null;
    if (drag.moved) this.hand.drop(drag.thing, this.metres(event), this.reach(event), drag.from);
    else this.hand.tap(drag.thing, drag.from);
  }

  #cancel() {
    if (!this.drag) return;
    this.drag = null;
    this.hand.cancel();
  }
}

function made(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
