// What was drawn is never lost: every change can be undone, and stands in the browser's own store until it is saved.

const MOST = 300;

export class History {
  constructor(first) {
    this.past = [];
    this.now = first;
    this.future = [];
  }

  take(state) {
    this.past = [...this.past.slice(-MOST), this.now];
    this.now = state;
    this.future = [];
  }

  undo() {
    if (!this.past.length) return false;
    this.future.push(this.now);
    this.now = this.past.pop();
    return true;
  }

  redo() {
    if (!this.future.length) return false;
    this.past.push(this.now);
    this.now = this.future.pop();
    return true;
  }
}

// One draft for each drill, rung, version and person. On a shared phone nobody finds another's.
export class Drafts {
  constructor({ drill, rung, version, person }) {
    this.stem = `bibrack.draw.${person}.${drill}${rung ? `:${rung}` : ""}.`;
    this.version = version;
    this.keeps = true;
  }

  put(state) {
    try {
      localStorage.setItem(this.stem + this.version, JSON.stringify({ ...state, at: new Date().toISOString() }));
    } catch {
      this.keeps = false; // full, or not allowed: the page says so
    }
  }

  drop() {
    for (const each of this.#all()) localStorage.removeItem(this.stem + each.version);
  }

  // The latest draft that differs from what is saved.
  latest(saved) {
    const found = this.#all().sort((a, b) => a.at.localeCompare(b.at)).at(-1);
    return found && JSON.stringify(found.scene) !== JSON.stringify(saved) ? found : null;
  }

  #all() {
    try {
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(this.stem));
      return keys.map((key) => ({ ...JSON.parse(localStorage.getItem(key)), version: Number(key.slice(this.stem.length)) }));
    } catch {
      this.keeps = false;
      return [];
    }
  }
}
