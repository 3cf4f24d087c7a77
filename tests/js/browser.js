// As much of a browser as the code under test asks for: a page without words of its own, a database,
// one lock, and a site that answers as a test wants it.
import "fake-indexeddb/auto";

globalThis.document = { getElementById: () => null, documentElement: { lang: "en" } };

let held = false;
const locks = {
  async request(_name, { ifAvailable }, act) {
    if (held && ifAvailable) return act(null);
    held = true;
    try {
      return await act({});
    } finally {
      held = false;
    }
  },
};
Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });

const json = (value, status = 200) => new Response(JSON.stringify(value), { status });

/**
 * A site that keeps each entry by its id, as pages/walk.py does, and counts how often it came. `faults`
 * are what goes wrong with the next calls, one a call:
 * "gone" nothing arrives, "lost" it arrives and the answer does not, "torn" the answer breaks off,
 * a number is that status, null nothing.
 */
export class Site {
  constructor(person = "ann") {
    this.person = person;
    this.faults = [];
    this.calls = [];
    this.kept = new Map();
    this.came = new Map();
    this.refuses = new Set();
    this.tokens = 0;
    globalThis.fetch = (url, options = {}) => this.answer(url, options);
  }

  async answer(url, { method = "GET", body, headers = {} }) {
    const fault = this.faults.shift() ?? null;
    this.calls.push(url);
    if (fault === "gone") throw new TypeError("no network");
    if (typeof fault === "number") return json({ says: "no" }, fault);
    if (method === "POST" && headers["X-CSRFToken"] !== `token ${this.tokens}`) return json({}, 403);
    const said = await this.take(url, body);
    if (fault === "lost") throw new TypeError("the network went");
    if (fault === "torn") return new Response('{"taken": [', { status: 200 });
    return json(said);
  }

  async take(url, body) {
    if (url === "/data") {
      this.tokens += 1;
      return { person: this.person, csrf: `token ${this.tokens}`, as_of: "2026-03-02T08:00:00Z", rooms: [] };
    }
    if (url === "/sync") return { taken: JSON.parse(body).ticks.map((each) => ({ id: each.id, ...this.keep(each.id, each) })) };
    if (url === "/site-change") return this.keep(JSON.parse(body).id, JSON.parse(body));
    const fields = Object.fromEntries(body);
    return this.keep(fields.id, { ...fields, file: await fields.file.text() });
  }

  keep(id, facts) {
    this.came.set(id, (this.came.get(id) ?? 0) + 1);
    if (this.refuses.has(id)) return { state: "refused", says: "not so" };
    this.kept.set(id, facts);
    return { state: "kept", says: "" };
  }
}

export const URLS = { data: "/data", sync: "/sync", photograph: "/photograph", siteChange: "/site-change" };

let number = 0;
/** A job that no other test has. */
export const freshJob = () => `job-${(number += 1)}`;

export function tick(job, made, more = {}) {
  number += 1;
  return {
    id: `id-${String(number).padStart(6, "0")}`, person: "ann", job, item: "item", fingerprint: "0123456789abcdef",
    made_at: new Date(Date.UTC(2026, 2, 2, 8) + made * 1000).toISOString(), known_at: "2026-03-02T07:00:00Z",
    kind: "tick", outcome: "ok", note: "", measured_mm: null, ...more,
  };
}

export const photograph = (job, made) =>
  tick(job, made, { kind: "photograph", bytes: new TextEncoder().encode("light").buffer, type: "image/jpeg" });

export const siteChange = (job, made) => tick(job, made, { kind: "site-change", box: "b1", at_mm: 100, height_mm: null });
