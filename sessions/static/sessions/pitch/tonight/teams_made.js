// Teams out of who is here: even, drawn by a seed, so that every phone that knows the seed draws the same.

const TRIES = 60; // draws of which the one is taken that leaves the fewest wishes open

// A small generator of numbers from 0 to 1 (a 32-bit multiply and xorshift mix): the same on every phone.
function chance(seed) {
  let at = seed >>> 0;
  return () => {
    at = (at + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(at ^ (at >>> 15), at | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

function shuffled(list, random) {
  const found = [...list];
  for (let n = found.length - 1; n > 0; n -= 1) {
    const other = Math.floor(random() * (n + 1));
    [found[n], found[other]] = [found[other], found[n]];
  }
  return found;
}

// How many each team gets of so many: as the set-up has them; who is over or short is shared where it weighs least.
export function sizes(counts, players) {
  const found = counts.map(Number);
  const total = () => found.reduce((sum, each) => sum + each, 0);
  const weight = (n) => found[n] / Math.max(1, counts[n]);
  const by = (better) => [...found.keys()].reduce((best, n) => (better(weight(n), weight(best)) ? n : best), 0);
  if (!found.length) return found;
  while (total() < players) found[by((a, b) => a < b)] += 1;
  while (total() > players) found[by((a, b) => a > b)] -= 1;
  return found;
}

// Wishes that this split doesn't meet.
export function unmet(teams, wishes) {
  const of = (id) => teams.findIndex((team) => team.includes(id));
  return wishes.filter(({ first, second, together }) => of(first) >= 0 && of(second) >= 0 && (of(first) === of(second)) !== together);
}

export function makeTeams({ players, counts, seed, wishes = [] }) {
  const random = chance(seed);
  const sorted = [...players].sort();
  const room = sizes(counts, players.length);
  let best = null;
  for (let n = 0; n < TRIES; n += 1) {
    const teams = drawn(sorted, room, wishes, random);
    const open = unmet(teams, wishes);
    if (!best || open.length < best.open.length) best = { teams, open };
    if (!open.length) break;
  }
  return best;
}

// Those who are to be together come first, as one; each goes where most room is left and nobody is whom they are kept from.
function drawn(players, room, wishes, random) {
  const teams = room.map(() => []);
  const blocks = shuffled(together(players, wishes), random).sort((a, b) => b.length - a.length);
  const left = (n) => room[n] - teams[n].length;
  const kept = (n, ids) => wishes.some((each) => !each.together && [[each.first, each.second], [each.second, each.first]].some(([a, b]) => ids.includes(a) && teams[n].includes(b)));
  const put = (ids) => {
    const order = shuffled([...teams.keys()], random).sort((a, b) => left(b) - left(a));
    const found = order.find((n) => left(n) >= ids.length && !kept(n, ids));
    if (found !== undefined) teams[found].push(...ids);
    else if (ids.length > 1) for (const id of ids) put([id]);
    else teams[order[0]].push(...ids);
  };
  for (const block of blocks) put(block);
  return teams.map((team) => team.sort());
}

function together(players, wishes) {
  const blocks = new Map(players.map((id) => [id, [id]]));
  for (const { first, second, together: joined } of wishes) {
    const [a, b] = [blocks.get(first), blocks.get(second)];
    if (!joined || !a || !b || a === b) continue;
    a.push(...b);
    for (const id of b) blocks.set(id, a);
  }
  return [...new Set(blocks.values())];
}

// One on: to the next team, after the last one to the keepers where there are any, and round again.
export function moved({ teams, keepers }, id, hasKeepers) {
  const places = [...teams, ...(hasKeepers ? [keepers] : [])].map((each) => [...each]);
  const at = places.findIndex((each) => each.includes(id));
  if (at < 0) return { teams, keepers };
  places[at] = places[at].filter((each) => each !== id);
  const to = (at + 1) % places.length;
  places[to] = [...places[to], id];
  return { teams: places.slice(0, teams.length), keepers: hasKeepers ? places.at(-1) : keepers };
}
