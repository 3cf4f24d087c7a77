// Keeps the walk's pages and files on the phone. What was ticked is kept by store.js, not here.
const PAGES = "studbay-walk-pages-1";
const FILES = "studbay-walk-files-1";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(fresh(FILES, event.request));
  else if (event.request.mode === "navigate") event.respondWith(fresh(PAGES, event.request));
});

// From the site when it answers, else as it was last seen here.
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

// The browser found the network again while the page was in the background.
self.addEventListener("sync", (event) => {
  event.waitUntil(
    self.clients
      .matchAll({ includeUncontrolled: true })
      .then((open) => open.forEach((client) => client.postMessage("sync"))),
  );
});
