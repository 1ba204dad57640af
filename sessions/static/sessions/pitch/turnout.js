// How many play: the register says it, until somebody says another number by the stepper. One value for all who ask.

import { playing } from "./fold.js";

export class TurnOut {
  constructor({ expected }) {
    Object.assign(this, { expected, here: 0, typed: null });
  }

  draw(state) {
    const here = playing(state);
    if (here !== this.here) this.typed = null; // somebody came or went: the register again
    this.here = here;
  }

  say(players) {
    this.typed = players === (this.here || this.expected) ? null : players;
  }

  get players() {
    return this.typed ?? (this.here || this.expected);
  }

  // Whether anybody said how many there are tonight.
  get isSaid() {
    return this.typed !== null || this.here > 0;
  }
}
