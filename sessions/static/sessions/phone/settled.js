// What an answer of the server makes of events that were sent: taken ones go to the log, others are set aside to be read.

import { remember, write } from "./store.js";

export const FORM = 1; // of a row of the outbox; who reads an older one brings it up to this
export const CHANNEL = "bibrack-outbox"; // by it tabs and the browser tell each other; the name of its waking call, too

const CLOSE_MS = 10_000; // as the server has it: answers take a while, and clocks of phones are seldom further off

// How far this phone's clock is ahead of the server's, in milliseconds, by an answer that says when it was made. It stays what
// it was while it is about the same: two taps of one phone keep their order, however long each takes to arrive.
export function aheadOf(now, before = 0) {
  const ahead = Date.now() - now;
  const found = Math.abs(ahead) < CLOSE_MS ? 0 : ahead;
  return Math.abs(found - before) < CLOSE_MS ? before : found;
}

// As they are sent: the server need not guess by how much the clock is wrong.
export const asSent = (events, ahead) => (ahead ? events.map((event) => ({ ...event, skew_ms: ahead })) : events);

const BAD = new Set(["refused", "conflict"]);

export const seenName = (account, session) => `seen ${account} ${session}`;

// `ahead` is how far this phone's clock was ahead of the server's while the events were made, in milliseconds.
export function sorted(of, batch, answer, ahead) {
  const outcomes = new Map((answer.results ?? []).map((each) => [each.id, each]));
  const isBad = (event) => BAD.has(outcomes.get(event.id)?.outcome);
  const key = (event) => ({ account: of.account, session: of.session, id: event.id });
  const aside = batch.filter(isBad).map((event) => ({ ...key(event), v: FORM, url: of.url, event, refused: outcomes.get(event.id).text ?? "" }));
  const taken = batch.filter((event) => !isBad(event)).map(({ at, ...event }) => ({ device: of.device, ...event, ms: Date.parse(at) - ahead }));
  const log = [...taken, ...(answer.events ?? [])].map((event) => ({ ...key(event), event }));
  return { aside, log };
}

// Written in one go: an event is never in neither place.
export async function keepSettled(of, batch, { aside, log }, answer, ahead) {
  await write(["outbox", "log"], (outbox, logged) => {
    for (const event of batch) outbox.delete([of.account, of.session, event.id]);
    for (const row of aside) outbox.put(row);
    for (const row of log) logged.put(row);
  });
  if (answer.now === undefined) return;
  await remember(seenName(of.account, of.session), { since: answer.last_seq, ahead: aheadOf(answer.now, ahead) });
}

// In the order in which they happened; what was not taken waits for a reader, not for the server.
export function inOrder(rows) {
  return rows.filter((row) => row.refused === undefined).map((row) => row.event).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}
