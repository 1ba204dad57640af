// Sessions taken along: kept whole, found again, and removed once they are over or somebody signs out.

import { between, known, read, remember, rows, write } from "./store.js";

// The account whose phone this is now. What was taken along for another one is removed; what it recorded waits for it.
export async function belongsTo(account) {
  if (isHelpers(account)) return; // a helper's page holds no names, and changes nobody's phone
  const before = await known("account");
  if (before === account) return;
  if (before) await forgetBundles(before);
  await remember("account", account);
}

export const isHelpers = (account) => account.startsWith("helper-");

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
export async function keep({ account, session, schema, title, starts, until, made_at, url, page, along, tag, ahead }) {
  await write(["bundles"], (bundles) => bundles.put({ account, session, schema, title, starts, until, made_at, url, page, along, tag, ahead }));
}

export const bundle = (account, session) => read("bundles", [account, session]);

// All that may be opened here: of the account whose phone this is, and of whoever helped with a number and no account.
export async function saved() {
  const account = await known("account");
  const found = (await rows("bundles")).filter((each) => each.account === account || isHelpers(each.account));
  return found.sort((a, b) => a.starts - b.starts);
}

// The addresses of a page at the pitch, of staff and of a helper.
export const AT_THE_PITCH = /^\/sessions\/(?:[0-9a-f-]{36}\/pitch|at\/[^/]+\/run)\/$/;

// What is saved of the page with this address; by the address of the sheet's code, the page to which it leads.
export async function copyAt(path) {
  const url = path.replace(/^(\/sessions\/at\/[^/]+\/)$/, "$1run/");
  return AT_THE_PITCH.test(url) ? ((await saved()).find((each) => each.url === url) ?? null) : null;
}

// What is over for so long as the club says is removed, with the log of it: names of children stay on no phone longer than they
// are of use. What waits in the outbox stays.
export async function tidy(now = Date.now()) {
  const over = (await rows("bundles")).filter((each) => each.until < now);
  if (!over.length) return;
  await write(["bundles", "log"], (bundles, log) => {
    for (const { account, session } of over) {
      bundles.delete([account, session]);
      log.delete(between(account, session));
    }
  });
}
