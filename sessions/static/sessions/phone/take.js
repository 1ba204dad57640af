// Take a session along: fetch its page and its answers, and keep both.

import { belongsTo, bundle, keep } from "./bundles.js";
import { aheadOf } from "./settled.js";

// Why something could not be taken: "signal", "signed-out" or "gone".
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

// What "numbers changed" answers, with its tag. `of` is what a page says of itself; `copy` what was saved before, or null.
export async function answers(of, copy) {
  if (!of.along) return { along: null, tag: null }; // a helper's page has none
  const response = await get(of.along, copy?.along ? copy.tag : null);
  if (response.status === 304) return { along: copy.along, tag: copy.tag };
  return { along: await response.json(), tag: response.headers.get("ETag") };
}

export function record({ account, session, schema, title, starts, until, now, url }) {
  return { account, session, schema, title, starts, until, url, made_at: now, ahead: aheadOf(now) };
}

// One session by the address of its page, which says of itself where its answers are.
export async function take(url) {
  const page = await (await get(url)).text();
  const about = /<script id="about" type="application\/json">(.*?)<\/script>/s.exec(page);
  if (!about) throw new NotTaken("signed-out");
  const of = JSON.parse(about[1]);
  await belongsTo(of.account);
  const before = await bundle(of.account, of.session);
  await keep({ ...record(of), page, along: before?.along ?? null, tag: before?.tag ?? null });
  await keep({ ...record(of), page, ...(await answers(of, before)) });
  return of;
}
