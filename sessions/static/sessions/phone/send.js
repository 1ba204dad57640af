// To the server: who is signed in, and what happened. The page sends so, and so does the browser once the page is closed.

export const MOST = 500;
// What an answer says of the way, not of what was sent: asked again as it is.
const AGAIN = new Set([408, 425, 429]);
const PATIENCE_MS = 20_000;

// Why something did not get through: "signal", "signed-out", "another" (account), "gone" (no such session, or not for this
// account), "unread".
export class Trouble extends Error {
  constructor(why) {
    super(why);
    this.why = why;
  }
}

async function ask(url, options = {}) {
  try {
    return await fetch(url, { credentials: "same-origin", cache: "no-store", signal: AbortSignal.timeout?.(PATIENCE_MS), ...options });
  } catch {
    throw new Trouble("signal");
  }
}

// The account that is signed in on this phone, with a token of now; null for nobody.
export async function whoIsThere(url) {
  const response = await ask(url);
  if (!response.ok) throw new Trouble("signal");
  const { account, token } = await response.json().catch(() => ({}));
  return account ? { account, token } : null;
}

export async function post(url, token, { events, device, since }) {
  const response = await ask(url, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-CSRFToken": token },
    body: JSON.stringify({ events, device, now: new Date().toISOString(), since }),
  });
  if (response.redirected || [401, 403].includes(response.status)) throw new Trouble("signed-out");
  if ([404, 410].includes(response.status)) throw new Trouble("gone");
  if (response.status >= 400 && response.status < 500 && !AGAIN.has(response.status)) throw new Trouble("unread");
  if (!response.ok) throw new Trouble("signal");
  return response.json().catch(() => { throw new Trouble("signal"); });
}

// All of them, at most so many at once. What nobody can read is halved until it is alone, and set aside: the rest gets through.
export async function deliver(events, { give, taken }) {
  let left = events;
  let most = MOST;
  do {
    const batch = left.slice(0, most);
    try {
      await taken(batch, await give(batch));
    } catch (trouble) {
      if (trouble.why !== "unread" || !batch.length) throw trouble;
      if (batch.length > 1) {
        most = Math.ceil(batch.length / 2);
        continue;
      }
      await taken(batch, { results: [{ id: batch[0].id, outcome: "refused", text: "" }] });
    }
    left = left.slice(batch.length);
    most = MOST;
  } while (left.length);
}

// One at a time on this phone, whichever tab or the browser itself sends.
export function inTurn(act) {
  return navigator.locks ? navigator.locks.request("bibrack-outbox", act) : act();
}
