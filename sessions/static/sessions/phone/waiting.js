// What waits in this phone's outbox, sent where no page of its session is open: by another page, or by the browser itself.

import { isHelpers } from "./bundles.js";
import { deliver, inTurn, post, whoIsThere } from "./send.js";
import { CHANNEL, asSent, inOrder, keepSettled, seenName, sorted } from "./settled.js";
import { device, known, rows } from "./store.js";

// Sends what it can; how many are left then, of the account that is signed in and of others, and why.
export async function sendWaiting(phone, { but } = {}) {
  const waits = async () => (await rows("outbox")).filter((row) => row.refused === undefined && row.session !== but);
  return inTurn(async () => {
    const every = await waits();
    if (!every.length) return { own: 0, others: 0, why: "" };
    let who = null;
    let why = "";
    try {
      who = await whoIsThere(phone);
      if (who === null) why = "signed-out";
    } catch (trouble) {
      why = trouble.why ?? "signal";
    }
    const account = who?.account ?? (await known("account"));
    const own = every.filter((row) => row.account === account);
    if (!why) for (const session of new Set(own.map((row) => row.session))) why = (await sendOne(who, own.filter((row) => row.session === session))) || why;
    why = (await sendHelpers(every.filter((row) => isHelpers(row.account)))) || why;
    const left = await waits();
    const ownLeft = left.filter((row) => row.account === account).length;
    return { own: ownLeft, others: left.length - ownLeft, why };
  });
}

// What was recorded without an account goes by this phone's pass for that session, whoever is signed in.
async function sendHelpers(every) {
  let why = "";
  for (const account of new Set(every.map((row) => row.account))) {
    const waiting = every.filter((row) => row.account === account);
    try {
      const who = await whoIsThere(waiting[0].url.replace(/events\/$/, "phone/"));
      if (who?.account === account) why = (await sendOne(who, waiting)) || why;
    } catch (trouble) {
      why = trouble.why ?? "signal";
    }
  }
  return why;
}

async function sendOne({ account, token }, waiting) {
  const of = { account, session: waiting[0].session, url: waiting[0].url, device: await device() };
  const seen = async () => (await known(seenName(of.account, of.session))) ?? { since: 0, ahead: 0 };
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel(CHANNEL) : null;
  try {
    await deliver(inOrder(waiting), {
      give: async (events) => {
        const { since, ahead } = await seen();
        return post(of.url, token, { events: asSent(events, ahead), device: of.device, since });
      },
      taken: async (batch, answer) => {
        const { ahead } = await seen();
        await keepSettled(of, batch, sorted(of, batch, answer, ahead), answer, ahead);
        channel?.postMessage({ what: "settled", ...of, batch, answer });
      },
    });
    return "";
  } catch (trouble) {
    return trouble.why ?? "signal";
  } finally {
    channel?.close();
  }
}
