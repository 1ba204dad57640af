// The page for drawing: one scene, a history of it, and what is shown. The server draws and checks; this asks it.

import { Claims } from "./claims.js";
import { Hand } from "./hand.js";
import { Drafts, History } from "./undo_and_drafts.js";
import { addStep, find, LISTS, spotOf, stateAt, takeAway, targetOf } from "./model.js";
import { number } from "./fields.js";
import { element, Panels, say } from "./panels.js";
import { Server } from "./server.js";
import { Stage } from "./stage.js";

const WAIT_MS = 180;
const one = (id) => document.getElementById(id);

class Editor {
  constructor(root, data) {
    Object.assign(this, { data, grid: data.grid, pace: data.pace, version: data.version, names: data.look.names });
    this.saved = whole(data.scene);
    this.history = new History({ scene: this.saved, byHand: data.by_hand });
    this.drafts = new Drafts(data);
    this.view = 0;
    this.chosen = null;
    this.asked = 0;
    const token = document.querySelector("[name=csrfmiddlewaretoken]").value;
    this.server = new Server({ look: root.dataset.look, save: root.dataset.save, token });
    this.hand = new Hand(this);
    this.stage = new Stage(one("stage"), this.hand);
    this.panels = new Panels(this);
    this.claims = new Claims(this);
    this.listen(root);
    this.stage.show(data.look.svg, data.look.sheet);
    this.panels.checks(data.look, 0);
    this.claims.show(data.look.claims);
    this.look(0);
    this.offerDraft();
  }

  get scene() { return this.history.now.scene; }
  get byHand() { return this.history.now.byHand; }
  get stroke() { return document.querySelector("[name=stroke]:checked").value; }

  word(name, values = {}) {
    const text = document.querySelector(`[data-word="${name}"]`).textContent;
    return text.replace(/\{(\w+)\}/g, (_, key) => values[key] ?? "");
  }

  name(key) {
    const item = find(this.scene, key)?.item ?? {};
    return this.names[key] ?? ([item.bib, item.label].filter(Boolean).join(" ") || key);
  }

  tell(text) { one("hint").textContent = text; }

  telling(key, [x, y]) { this.tell(this.word("at", { name: this.name(key), x: say(x), y: say(y) })); }

  sizing(key, { length_m, width_m }) { this.tell(this.word("sized", { name: this.name(key), length: say(length_m), width: say(width_m) })); }

  // --- changing

  // Run a change on a copy; what it returns comes back, null for a change that could not be made.
  change(doing) {
    const scene = structuredClone(this.scene);
    const result = doing(scene);
    if (result === null) return null;
    this.take({ scene, byHand: true });
    return result;
  }

  take(state) {
    this.history.take(state);
    this.changed();
  }

  changed() {
    this.drafts.put(this.history.now);
    if (!this.drafts.keeps) this.tell(this.word("nostore"));
    if (this.view > this.scene.steps.length) this.view = this.scene.steps.length;
    if (this.chosen && !this.stands(this.chosen)) this.chosen = null;
    this.redraw();
    this.ask();
  }

  stands(chosen) {
    if (chosen.key) return find(this.scene, chosen.key) !== null;
    return Boolean(this.view && this.scene.steps[this.view - 1].moves[chosen.move]);
  }

  back(forth) {
    if (forth ? this.history.redo() : this.history.undo()) {
      this.tell(this.word(forth ? "redone" : "undone"));
      this.changed();
    }
  }

  takeAway() {
    const { chosen, view } = this;
    if (!chosen) return;
    const name = chosen.key ? this.name(chosen.key) : one("chosen-title").textContent;
    this.chosen = null;
    this.change((scene) => {
      if (chosen.key) takeAway(scene, chosen.key);
      else scene.steps[view - 1].moves.splice(chosen.move, 1);
    });
    this.tell(this.word("gone", { name }));
  }

  // --- showing

  look(view) {
    this.view = view;
    this.chosen = view === 0 && this.chosen?.key ? this.chosen : null;
    this.hand.arm(null);
    this.redraw();
    this.tell(this.word(view === null ? "whole" : view ? "instep" : "setup"));
    this.ask();
  }

  choose(chosen) {
    this.chosen = chosen;
    const key = chosen?.key;
    if (key && this.view) one("new-who").value = this.scene.players.some((each) => each.key === key) ? key : one("new-who").value;
    this.redraw();
    if (key) this.telling(key, this.spot(key));
  }

  spot(key) {
    const players = stateAt(this.scene, this.view ? this.scene.steps[this.view - 1].start_s : 0).players;
    return players[key] ?? spotOf(this.scene, find(this.scene, key), players);
  }

  redraw() {
    this.panels.show();
    one("undo").disabled = !this.history.past.length;
    one("redo").disabled = !this.history.future.length;
    const move = this.view && this.chosen?.move !== undefined ? this.scene.steps[this.view - 1].moves[this.chosen.move] : null;
    const ring = this.chosen?.key ? this.spot(this.chosen.key) : move ? targetOf(this.scene, move, stateAt(this.scene, move.end_s).players) : null;
    const zone = this.view === 0 && this.chosen?.key ? find(this.scene, this.chosen.key) : null;
    if (zone?.kind === "zone") this.stage.mark(null, null, zone.item);
    else this.stage.mark(ring);
  }

  arming(what) {
    for (const button of document.querySelectorAll("[data-put]")) button.setAttribute("aria-pressed", String(what?.button === button));
    if (what) this.tell(this.word("armed"));
  }

  // Ask the server for the drawing, a moment after the last change; only the newest answer counts.
  ask() {
    clearTimeout(this.timer);
    const mine = ++this.asked;
    one("stage").setAttribute("aria-busy", "true");
    this.timer = setTimeout(async () => {
      const view = this.view;
      const { status, body } = await this.server.look(this.scene, view, one("show-lanes").checked);
      if (mine !== this.asked) return;
      one("stage").setAttribute("aria-busy", "false");
      if (this.stage.busy) this.ask();
      else if (status === 200) this.drawn(body, view);
      else this.unseen(status, body);
    }, WAIT_MS);
  }

  drawn(answer, view) {
    this.names = answer.names;
    this.stage.show(answer.svg, answer.sheet);
    this.panels.checks(answer, view);
    this.claims.show(answer.claims);
    this.redraw();
  }

  unseen(status, body) {
    if (status === 400) this.panels.checks({ reasons: body.problems.map((each) => ({ level: "stop", text: each.text, items: [] })), steps: [] }, 0);
    else this.tell(this.word(failure(status)));
  }

  // --- keeping

  offerDraft() {
    const draft = this.drafts.latest(this.saved);
    one("kept").hidden = !draft;
    if (!draft) return;
    this.rest(true); // asked first: a stroke made before the answer would take the draft's place
    const time = new Date(draft.at).toLocaleTimeString(document.documentElement.lang, { hour: "2-digit", minute: "2-digit" });
    one("kept-words").textContent = this.word(draft.version === this.version ? "kept" : "keptold", { time });
    one("kept-yes").addEventListener("click", () => {
      this.version = this.drafts.version = draft.version; // saved over what it began from, so nobody's work is lost unseen
      this.take({ scene: whole(draft.scene), byHand: draft.byHand });
      this.settle(one("kept"));
    });
    one("kept-no").addEventListener("click", () => {
      this.drafts.drop();
      this.settle(one("kept"));
    });
  }

  rest(resting) {
    for (const each of document.querySelectorAll(".draw-sheet, .draw-beside")) each.inert = resting;
  }

  settle(box) {
    this.rest(false);
    box.hidden = true;
    one("stage").focus();
  }

  async save() {
    one("save").disabled = true;
    one("refused").hidden = true;
    const { status, body } = await this.server.save(this.byHand ? this.scene : null, this.version);
    one("save").disabled = false;
    if (status === 200) {
      this.drafts.drop();
      location.assign(body.address);
    } else if (status === 409) this.showTheirs(body);
    else if (status === 400 && body.problems) {
      one("refused-why").replaceChildren(...body.problems.map((each) => element("li", "", each.text)));
      one("refused").hidden = false;
    } else this.tell(this.word(failure(status)));
  }

  showTheirs(theirs) {
    this.theirs = theirs;
    one("theirs-words").textContent = this.word(theirs.plan_changed ? "theirsplan" : "theirswords");
    const svg = new DOMParser().parseFromString(theirs.svg.replaceAll("draw-", "theirs-"), "image/svg+xml").documentElement;
    one("theirs-plan").replaceChildren(document.importNode(svg, true));
    one("theirs").hidden = false;
    one("theirs-mine").focus();
  }

  // Go on from their version: with mine, or with theirs and mine one undo away.
  agree() {
    this.drafts.drop();
    this.version = this.drafts.version = this.theirs.version;
    this.drafts.put(this.history.now);
    this.settle(one("theirs"));
  }

  // --- listening

  listen(root) {
    root.addEventListener("click", (event) => this.clicked(event));
    one("stage").addEventListener("keydown", (event) => this.hand.key(event));
    document.addEventListener("keydown", (event) => this.shortcut(event));
    one("new-move").addEventListener("submit", (event) => { event.preventDefault(); this.typedMove(event.target.elements); });
    one("show-lanes").addEventListener("change", () => this.ask());
    addEventListener("beforeunload", (event) => { if (!this.drafts.keeps && this.history.past.length) event.preventDefault(); });
    const doing = {
      undo: () => this.back(false),
      redo: () => this.back(true),
      save: () => this.save(),
      away: () => this.takeAway(),
      "add-step": () => { const view = this.change((scene) => addStep(scene)); this.look(view); },
      "to-generated": () => this.take({ scene: whole(this.data.generated), byHand: false }),
      "to-empty": () => this.change((scene) => { Object.assign(scene, { claims: [], steps: [], coach: null, ...Object.fromEntries(LISTS.map((list) => [list, []])) }); }),
      "to-grid": () => this.change((scene) => { Object.assign(scene, this.grid); }),
      "theirs-mine": () => { this.agree(); this.save(); },
      "theirs-take": () => { this.agree(); this.take({ scene: whole(this.theirs.scene), byHand: this.theirs.by_hand }); },
    };
    for (const [id, act] of Object.entries(doing)) one(id).addEventListener("click", act);
  }

  clicked(event) {
    const button = event.target.closest("button");
    const { view, key, move, put } = button?.dataset ?? {};
    if (view) this.look(view === "all" ? null : Number(view));
    else if (key) this.choose({ key });
    else if (move) this.choose({ move: Number(move) });
    else if (put) this.putting(button, event.detail === 0);
  }

  // Pressed by key: it stands in the middle at once, and the arrows move it. By pointer: the next taps put it down.
  putting(button, byKey) {
    const { put: kind, side = "A", wears } = button.dataset;
    const what = { kind, side, bib: wears ?? this.data.bibs.A, button };
    if (!byKey) {
      this.hand.arm(this.hand.armed?.button === button ? null : what);
      return;
    }
    this.hand.put(what, [this.scene.length_m / 2, this.scene.width_m / 2]);
    one("stage").focus();
  }

  typedMove({ who, to, x, y }) {
    const spot = to.value ? this.spot(to.value) : [number(x.value), number(y.value)];
    if (spot.includes(null)) this.tell(this.word("notnumber", { text: spot[0] === null ? x.value : y.value }));
    else this.hand.add({ kind: this.stroke, who: who.value, to: this.stroke === "ball" ? to.value || null : null, spot });
  }

  shortcut(event) {
    const typing = event.target.matches?.("input, textarea") && event.target.value !== event.target.dataset.was && event.target.type !== "radio";
    if (!(event.ctrlKey || event.metaKey) || typing) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    this.back(key === "y" || event.shiftKey);
  }
}

// A scene with every list there, as the functions of the model want it.
function whole(scene) {
  const made = structuredClone(scene);
  for (const list of [...LISTS, "steps", "claims"]) made[list] ??= [];
  for (const step of made.steps) step.moves ??= [];
  return made;
}

const failure = (status) => ({ 0: "offline", 401: "signedout" })[status] ?? "failed";

new Editor(one("draw"), JSON.parse(one("drawn").textContent));
