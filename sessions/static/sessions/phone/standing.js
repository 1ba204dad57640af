// The worker that stands between pages and network: asked for by each page that keeps something.

const PATIENCE_MS = 20_000;

// Whether pages open without signal: browsers allow it on https and on this machine alone, a phone may be full, and a cache cleared.
export async function stands(url) {
  try {
    const registration = await navigator.serviceWorker.register(url, { type: "module", scope: "/" });
    if (registration.active === null && !(await comes(registration.installing ?? registration.waiting))) return false;
    return await holdsAll(registration.active);
  } catch {
    return false;
  }
}

function comes(worker) {
  return new Promise((resolve) => {
    const look = () => {
      if (worker.state === "activated") resolve(true);
      if (worker.state === "redundant") resolve(false);
    };
    worker.addEventListener("statechange", look);
    look();
  });
}

// It fetches what is missing before it answers. A worker of a version before does not know the question: nothing is known against it.
function holdsAll(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => { port1.close(); resolve(data); };
    setTimeout(resolve, PATIENCE_MS, true);
    worker.postMessage("all there?", [port2]);
  });
}
