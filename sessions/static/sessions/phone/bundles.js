// Sessions taken along: kept whole, found again, and removed once they are over or somebody signs out.

import { between, known, read, remember, rows, write } from "./store.js";

const DAY_MS = 24 * 60 * 60 * 1000;
export const KEPT_MS = 3 * DAY_MS; // after its end: names of children stay on no phone longer than they are of use

// The account whose phone this is now. What was taken along for another one is removed; what it recorded waits for it.
export async function belongsTo(account) {
  const before = await known("account");
  if (before === account) return;
  if (before) await forgetBundles(before);
  await remember("account", account);
}

export async function forgetBundles(account) {
  await write(["bundles", "log"], (bundles, log) => {
    bundles.delete(between(account));
    log.delete(between(account));
  });
}

export async function signedOut() {
  const account = await known("account");
  if (account) await forgetBundles(account);
  await remember("account", null);
}

// `page` is the text of the page as it was served, `along` what "numbers changed" answers, `ahead` this phone's clock less the server's.
export async function keep({ account, session, schema, title, starts, off, made_at, url, page, along, tag, ahead }) {
  await write(["bundles"], (bundles) => bundles.put({ account, session, schema, title, starts, off, made_at, url, page, along, tag, ahead }));
}

export const bundle = (account, session) => read("bundles", [account, session]);

export async function saved(account) {
  const found = await rows("bundles", account);
  return found.sort((a, b) => a.starts - b.starts);
}

// What is over for days is removed, with the log of it; what waits in the outbox is not.
export async function tidy(now = Date.now()) {
  const over = (await rows("bundles")).filter((each) => each.off + KEPT_MS < now);
  if (!over.length) return;
  await write(["bundles", "log"], (bundles, log) => {
    for (const { account, session } of over) {
      bundles.delete([account, session]);
      log.delete(between(account, session));
    }
  });
}
