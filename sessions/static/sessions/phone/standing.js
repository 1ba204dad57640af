// The worker that stands between pages and network: asked for by each page that keeps something.

// Whether pages open without signal: browsers allow it on https and on this machine alone, and a phone may be full.
export async function stands(url) {
  try {
    const registration = await navigator.serviceWorker.register(url, { type: "module", scope: "/" });
    return registration.active !== null || (await comes(registration.installing ?? registration.waiting));
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
