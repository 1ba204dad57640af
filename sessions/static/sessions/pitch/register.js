// The register: one tap a player, limits without a reason, guests.

// Here or not here is one tap; late and watching stand in the row's "…".
const NEXT = { open: "here", here: "absent", late: "absent", watching: "absent", absent: "here", left: "here" };

// A name that runs from right to left leaves what stands beside it where it is.
const isolated = (name) => `\u2068${name}\u2069`;

export function shownState(line) {
  if (!line) return "open";
  return line.taking === "watching" && line.state !== "absent" && line.state !== "left" ? "watching" : line.state;
}

export class RegisterView {
  constructor({ data, url, words, add, fill, undo }) {
    Object.assign(this, { data, url, words, add, fill, undo, offered: [] });
    this.rows = new Map();
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
    for (const [id, row] of this.rows) {
      const line = state.register.get(id);
      const shown = shownState(line);
      here += Number(["here", "late", "watching"].includes(shown));
      open += Number(shown === "open");
      row.dataset.state = shown;
      row.querySelector(".how").textContent = [this.words[shown], ...this.#limits(line)].join(", ");
    }
    const count = this.fill(this.words.count, { here, all: this.rows.size });
    document.getElementById("counted").textContent = open ? `${count}, ${this.fill(this.words.unmarked, { n: open })}` : count;
    document.getElementById("came").textContent = `${here}/${this.rows.size}`;
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
    const wanted = NEXT[shownState(line)];
    const back = wanted === "here" && line?.taking === "watching";
    const done = back ? this.add("limited", { player: id, limits: [] }) : this.#mark(id, wanted === "here" ? "arrived" : wanted);
    this.undo(`${this.rows.get(id).querySelector(".who").textContent}: ${this.words[wanted]}`, [done]);
  }

  #mark(id, kind) {
    return this.add(kind, { player: id });
  }

  #restHere() {
    const ids = [...this.rows.keys()].filter((id) => !this.state.register.has(id));
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
    box.querySelector(".went").addEventListener("click", () => { this.add("left", { player: id }); close(); });
    for (const kind of ["late", "watching"]) box.querySelector(`.${kind}`).addEventListener("click", () => { this.#mark(id, kind); close(); });
    row.append(box);
  }

  #limit(id, box) {
    const limits = [...box.querySelectorAll("[type=checkbox]:checked")].map((tick) => tick.value);
    const most = Number.parseInt(box.querySelector(".most").value, 10);
    this.add("limited", { player: id, limits, ...(most > 0 && most <= 600 ? { at_most_min: most } : {}) });
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
      if (select.value) this.add("guest", { player: select.value });
    });
  }

  #guestRow(id) {
    this.#row(this.offered.find((each) => each.id === id) ?? { id, name: this.words.guest }, true);
  }
}
