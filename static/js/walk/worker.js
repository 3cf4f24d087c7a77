// Keeps the walk's pages and files on the phone. What was ticked is kept by store.js, not here.
const PAGES = "studbay-walk-pages-1";
const FILES = "studbay-walk-files-1";
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (event) => event.waitUntil(worker.clients.claim()));

worker.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== worker.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(fresh(FILES, event.request));
  else if (event.request.mode === "navigate") event.respondWith(fresh(PAGES, event.request));
});

/**
 * From the site when it answers, else as it was last seen here.
 * @param {string} name
 * @param {Request} request
 */
async function fresh(name, request) {
  const cache = await caches.open(name);
  try {
    const answer = await fetch(request);
    if (answer.ok && !answer.redirected) await cache.put(request, answer.clone());
    return answer;
  } catch (fault) {
    const kept = await cache.match(request);
    if (kept) return kept;
    throw fault;
  }
}

// The browser found the network again while the page was in the background. No type library has this event.
worker.addEventListener("sync", (event) => {
  /** @type {ExtendableEvent} */ (event).waitUntil(
    worker.clients
      .matchAll({ includeUncontrolled: true })
      .then((open) => open.forEach((client) => client.postMessage("sync"))),
  );
});
