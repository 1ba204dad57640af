// What this phone keeps for times without signal, in IndexedDB.
//   bundles  a session taken along: the page as it was served, and what "numbers changed" answers
//   outbox   what happened here and has not been sent, or was not taken and is still to be read
//   log      what the server had taken when we last heard, so that a saved copy shows it
//   meta     whose phone this is, its own name, how far each session's log goes

const NAME = "bibrack";
const VERSION = 1;
const PATIENCE_MS = 3000;
const STORES = { bundles: ["account", "session"], outbox: ["account", "session", "id"], log: ["account", "session", "id"], meta: "name" };

let opening = null;
// Browsers clear this under an open page too: what is still known is written again (saved.js).
export const heeds = { cleared() {} };

function open() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      for (const [name, keyPath] of Object.entries(STORES)) {
        if (!asked.result.objectStoreNames.contains(name)) asked.result.createObjectStore(name, { keyPath });
      }
    };
    asked.onsuccess = () => {
      // A newer version of the app in another tab may change the stores: this one lets go of them, and opens them anew.
      asked.result.onversionchange = ({ newVersion }) => { asked.result.close(); opening = null; if (newVersion === null) heeds.cleared(); };
      asked.result.onclose = () => { opening = null; heeds.cleared(); };
      resolve(asked.result);
    };
    asked.onerror = () => reject(asked.error);
    setTimeout(() => reject(new Error("the phone's own storage does not answer")), PATIENCE_MS);
  });
}

async function opened() {
  opening ??= open().catch((trouble) => { opening = null; throw trouble; });
  return opening;
}

const answer = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

// All of what `act` does is written, or nothing. It is on the disk when this returns: a phone may go dark at once.
export async function write(stores, act) {
  const transaction = (await opened()).transaction(stores, "readwrite", { durability: "strict" });
  act(...stores.map((name) => transaction.objectStore(name)));
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

export async function read(store, key) {
  return answer((await opened()).transaction(store).objectStore(store).get(key));
}

// Every row, of an account and of one of its sessions where they are named.
export async function rows(store, account, session) {
  const range = account === undefined ? undefined : between(account, session);
  return answer((await opened()).transaction(store).objectStore(store).getAll(range));
}

// The keys of an account's session begin alike; an array comes after every text.
export function between(account, session) {
  const from = session === undefined ? [account] : [account, session];
  return IDBKeyRange.bound(from, [...from, []]);
}

export async function known(name) {
  return (await read("meta", name))?.value ?? null;
}

export async function remember(name, value) {
  return write(["meta"], (meta) => meta.put({ name, value }));
}

export function uuid() {
  if (crypto.randomUUID) return crypto.randomUUID(); // on https and localhost alone
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// By what name the server tells this phone from another one: made here, of no person.
export async function device() {
  const own = await known("device");
  if (own) return own;
  const made = uuid().slice(0, 8);
  await remember("device", made);
  return made;
}
