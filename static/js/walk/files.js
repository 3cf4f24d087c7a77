// The files of the walk, which the service worker keeps for when there is no signal.

/**
 * Have the worker stand by and keep what the page was made of; `woken` is called when it says that the
 * network is back.
 * @param {string} address @param {() => unknown} woken
 */
export async function keepFiles(address, woken) {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register(address);
  const worker = await navigator.serviceWorker.ready;
  navigator.serviceWorker.addEventListener("message", woken);
  worker.sync?.register("walk").catch(() => {});
  // What was loaded before the worker stood by is asked for again, so that it keeps it.
  const files = performance.getEntriesByType("resource").map((entry) => entry.name);
  await controlled();
  await Promise.allSettled([location.href, ...files.filter((f) => f.includes("/static/"))].map((f) => keep(f)));
}

const controlled = () =>
  navigator.serviceWorker.controller ||
  new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));

/** @param {string} url */
async function keep(url) {
  const name = url.includes("/static/") ? "studbay-walk-files-1" : "studbay-walk-pages-1";
  const found = await fetch(url);
  if (found.ok && !found.redirected) await (await caches.open(name)).put(url, found);
}
