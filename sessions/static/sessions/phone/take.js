// Take a session along: fetch its page and its answers, and keep both.

import { belongsTo, bundle, keep } from "./bundles.js";
import { aheadOf } from "./settled.js";

export class NotTaken extends Error {
  constructor(why) {
    super(why);
    this.why = why;
  }
}

async function get(url, tag) {
  let response;
  try {
    response = await fetch(url, { credentials: "same-origin", cache: "no-store", headers: tag ? { "If-None-Match": tag } : {} });
  } catch {
    throw new NotTaken("signal");
  }
  if (response.redirected) throw new NotTaken("signed-out");
  if (response.status !== 304 && !response.ok) throw new NotTaken(response.status === 404 ? "gone" : "signal");
  return response;
}

// `of` is what a page says of itself: { account, session, schema, title, starts, off, now, url, along (its address) }.
export async function takeAnswers(of, page) {
  if (!of.along) return null; // a helper's page has none
  const before = await bundle(of.account, of.session);
  const response = await get(of.along, before?.along ? before.tag : null);
  const along = response.status === 304 ? before.along : await response.json();
  const tag = response.headers.get("ETag") ?? before?.tag;
  await keep({ ...record(of), page, along, tag });
  return along;
}

export function record({ account, session, schema, title, starts, off, now, url }) {
  return { account, session, schema, title, starts, off, url, made_at: now, ahead: aheadOf(now) };
}

// One session by the address of its page, which says of itself where its answers are.
export async function take(url) {
  const page = await (await get(url)).text();
  const about = /<script id="about" type="application\/json">(.*?)<\/script>/s.exec(page);
  if (!about) throw new NotTaken("signed-out");
  const of = JSON.parse(about[1]);
  await belongsTo(of.account);
  await keep({ ...record(of), page, along: (await bundle(of.account, of.session))?.along ?? null });
  await takeAnswers(of, page);
  return of;
}
