// On the page of signing in: what the site gave this browser to keep goes. What somebody made here
// and the site has not got yet, ticks, photographs and drafts, stays: each for whoever made it.
const PAGES = "studbay-walk-pages-1";
const WALK = "studbay-walk";

globalThis.caches?.delete(PAGES).catch(() => {});

// Opened without a version it is made where there is none; `upgradeneeded` says so, and undoes it.
const asked = globalThis.indexedDB?.open(WALK);
if (asked) {
  asked.onupgradeneeded = () => asked.transaction?.abort();
  asked.onerror = (event) => event.preventDefault();
  asked.onsuccess = () => {
    const db = asked.result;
    if (db.objectStoreNames.contains("jobs")) {
      const write = db.transaction("jobs", "readwrite");
      write.objectStore("jobs").clear();
      write.oncomplete = () => (document.body.dataset.forgotten = "yes");
    }
    db.close();
  };
}
