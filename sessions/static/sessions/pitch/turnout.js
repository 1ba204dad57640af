// How many play: the register says it, or a count of heads before it does, until somebody says another number by the stepper. One value for all who ask.

import { counted, playing } from "./fold.js";

export class TurnOut {
  constructor({ expected }) {
    Object.assign(this, { expected, here: 0, typed: null });
  }

  draw(state) {
    const here = counted(state);
    if (here !== this.here) this.typed = null; // somebody came or went: the register again
    this.here = here;
    this.byHeads = here > 0 && here !== playing(state); // nobody is on the register yet
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
