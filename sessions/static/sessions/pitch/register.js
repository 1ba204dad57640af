// The register: one tap a player, limits without a reason, guests.

// Here or not here is one tap; late and watching stand in the row's "…".
const NEXT = { open: "here", here: "absent", late: "absent", watching: "absent", absent: "here", left: "here" };

// Who is out until lifted may watch, and nothing else.
const NEXT_OUT = { open: "watching", here: "watching", late: "watching", watching: "absent", absent: "watching", left: "watching" };

// A name that runs from right to left leaves what stands beside it where it is.
export const isolated = (name) => `\u2068${name}\u2069`;

export function shownState(line) {
  if (!line) return "open";
  return line.taking === "watching" && line.state !== "absent" && line.state !== "left" ? "watching" : line.state;
}

export class RegisterView {
  constructor({ data, url, words, add, fill, undo }) {
    Object.assign(this, { data, url, words, add, fill, undo, offered: [], device: "" });
    this.rows = new Map();
    // The page knows who was out when it was made, whatever happened before; what is tapped since comes on top.
    this.before = new Set(data.events.map((event) => event.id));
    this.outBefore = new Set(data.players.filter((player) => player.out).map((player) => player.id));
    this.list = document.getElementById("names");
    for (const player of data.players) this.#row(player, player.guest);
    this.#guests();
    document.getElementById("all-here").addEventListener("click", () => this.#restHere());
  }

  draw(state) {
    this.state = state;
    for (const id of state.guests) if (!this.rows.has(id)) this.#guestRow(id);
    let here = 0;
    let open = 0;
    let expected = 0;
    for (const [id, row] of this.rows) {
      const line = state.register.get(id);
      const shown = shownState(line);
      const out = this.#isOut(id);
      expected += Number(!out);
      here += Number(!out && ["here", "late", "watching"].includes(shown));
      open += Number(!out && shown === "open");
      row.dataset.state = shown;
      row.toggleAttribute("data-out", out);
      const how = out && shown === "open" ? [this.words.out] : [...(out ? [this.words.out] : []), this.words[shown], ...this.#limits(line)];
      row.querySelector(".how").textContent = how.join(", ");
      this.#apart(row, line);
    }
    const count = this.fill(this.words.count, { here, all: expected });
    document.getElementById("counted").textContent = open ? `${count}, ${this.fill(this.words.unmarked, { n: open })}` : count;
    document.getElementById("heads-said").textContent = state.heads === null ? "" : this.fill(this.words.heads_said, { n: state.heads });
    document.getElementById("came").textContent = `${here}/${expected}`;
    this.counts = { here, open, expected };
  }

  // Another phone says otherwise: both stand in the row until somebody settles it.
  #apart(row, line) {
    let said = row.querySelector(".apart");
    if (!line?.others || !this.saidApart) return said?.remove();
    if (!said) row.append(said = Object.assign(document.createElement("p"), { className: "apart" }));
    said.textContent = this.saidApart(line);
  }

  nameOf(id) {
    return this.rows.get(id)?.querySelector(".who").textContent ?? this.words.guest;
  }

  // A tap says which words of other phones it knew of.
  #say(kind, body) {
    const over = (this.state.spoken.get(body.player) ?? []).filter((word) => word.device !== this.device).map((word) => word.id);
    return this.add(kind, over.length ? { ...body, over } : body);
  }

  #isOut(id) {
    const tapped = this.state.out.get(id);
    return this.outBefore.has(id) || (tapped !== undefined && !this.before.has(tapped));
  }

  #limits(line) {
    if (line?.taking !== "limited") return [];
    const most = line.most ? [this.fill(this.words.at_most, { n: line.most })] : [];
    return [...line.limits.map((name) => this.words[name]), ...most];
  }

  #row(player, guest = false) {
    const row = document.getElementById("a-name").content.firstElementChild.cloneNode(true);
    row.dataset.state = "open";
    row.querySelector(".shirt").textContent = player.shirt ?? "";
    row.querySelector(".who").textContent = guest ? `${isolated(player.name)} (${this.words.guest})` : player.name;
    row.querySelector(".tap").addEventListener("click", () => this.#tap(player.id));
    const more = row.querySelector(".more");
    more.textContent = "…";
    more.setAttribute("aria-label", `${this.words.limits}: ${player.name}`);
    more.addEventListener("click", () => this.#unfold(row, player.id, more));
    this.list.append(row);
    this.rows.set(player.id, row);
  }

  #tap(id) {
    const line = this.state.register.get(id);
    const wanted = (this.#isOut(id) ? NEXT_OUT : NEXT)[shownState(line)];
    const back = wanted === "here" && line?.taking === "watching";
    const done = back ? this.#say("limited", { player: id, limits: [] }) : this.#mark(id, wanted === "here" ? "arrived" : wanted);
    this.undo(`${this.rows.get(id).querySelector(".who").textContent}: ${this.words[wanted]}`, [done]);
  }

  #mark(id, kind) {
    return this.#say(kind, { player: id });
  }

  #restHere() {
    const ids = [...this.rows.keys()].filter((id) => !this.state.register.has(id) && !this.#isOut(id));
    const done = ids.map((id) => this.#mark(id, "arrived"));
    if (done.length) this.undo(this.fill(this.words.rest_here, { n: done.length }), done);
  }

  #unfold(row, id, more) {
    const open = row.querySelector(".limits");
    more.setAttribute("aria-expanded", String(!open));
    if (open) return open.remove();
    const box = document.getElementById("a-limit").content.firstElementChild.cloneNode(true);
    const line = this.state.register.get(id);
    for (const tick of box.querySelectorAll("[type=checkbox]")) tick.checked = line?.limits.includes(tick.value) ?? false;
    box.querySelector(".most").value = line?.most ?? "";
    box.setAttribute("aria-label", more.getAttribute("aria-label"));
    const close = () => { box.remove(); more.setAttribute("aria-expanded", "false"); };
    box.querySelector(".keep").addEventListener("click", () => { this.#limit(id, box); close(); });
    box.querySelector(".went").addEventListener("click", () => { this.#mark(id, "left"); close(); });
    box.querySelector(".out").addEventListener("click", () => { this.#mark(id, "out"); close(); this.#unfold(row, id, more); });
    if (this.#isOut(id)) {
      for (const each of box.querySelectorAll("label, .keep, .out, .late, .watching")) each.hidden = true;
      box.querySelector(".is-out").hidden = false;
    }
    for (const kind of ["late", "watching"]) box.querySelector(`.${kind}`).addEventListener("click", () => { this.#mark(id, kind); close(); });
    row.append(box);
  }

  #limit(id, box) {
    const limits = [...box.querySelectorAll("[type=checkbox]:checked")].map((tick) => tick.value);
    const most = Number.parseInt(box.querySelector(".most").value, 10);
    this.#say("limited", { player: id, limits, ...(most > 0 && most <= 600 ? { at_most_min: most } : {}) });
  }

  // Names of other squads come only when they are asked for.
  #guests() {
    const fold = document.getElementById("guests");
    const select = document.getElementById("guest");
    const said = document.getElementById("guests-said");
    fold.addEventListener("toggle", async () => {
      if (!fold.open || this.offered.length) return;
      try {
        const response = await fetch(this.url);
        if (!response.ok || response.redirected) throw new Error(`guests: ${response.status}`);
        this.offered = (await response.json()).guests;
        said.textContent = this.offered.length ? "" : this.words.no_guests;
      } catch {
        said.textContent = this.words.guests_later;
      }
      select.replaceChildren(...this.offered.map((guest) => new Option(`${isolated(guest.name)} (${isolated(guest.squad)})`, guest.id)));
    });
    document.getElementById("add-guest").addEventListener("click", () => {
      if (!select.value) return;
      this.#mark(select.value, "guest");
      // A guest who is out comes to watch.
      if (this.offered.some((each) => each.id === select.value && each.out)) this.#mark(select.value, "watching");
    });
  }

  #guestRow(id) {
    const guest = this.offered.find((each) => each.id === id) ?? { id, name: this.words.guest };
    if (guest.out) this.outBefore.add(id);
    this.#row(guest, true);
  }
}
