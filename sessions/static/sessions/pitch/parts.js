// Which part is on: the one that runs, else the next one; what was skipped is passed over.

import { running } from "./fold.js";

export function parts({ data, keys, now }) {
  const of = (key) => now().parts.get(key);
  const untouched = () => [...now().parts.values()].every((part) => part.started === null);

  // Once the session is said to be over, the last part that ran stays.
  function current() {
    const last = keys.findLastIndex((key) => of(key).started !== null);
    const on = ["planned", "running"].includes(now().status) || last < 0 ? following(last) : keys.length;
    return running(now()) ?? keys[on] ?? keys[Math.max(last, 0)];
  }

  // The next part that is not skipped; as many as there are where none is.
  function following(index) {
    const found = keys.findIndex((key, n) => n > index && !of(key).skipped);
    return found < 0 ? keys.length : found;
  }

  // Nobody pressed anything: the first part runs from its planned start, as the wristwatch does.
  function started(index) {
    const own = of(keys[index]);
    const first = index === 0 && !own.skipped && untouched();
    return own.started ?? (first && Date.now() >= data.parts[0].from ? data.parts[0].from : null);
  }

  return { current, following, started, untouched };
}
