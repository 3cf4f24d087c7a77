// Sends what waits, again and again until the site has said what became of each.
import { say } from "../say.js";
import * as store from "./store.js";

const BATCH = 100;
const ONE_BY_ONE = ["photograph", "site-change", "fix", "pulled", "built"]; // in this order, after all ticks
const SHORTEST = 2_000;
const LONGEST = 60_000;
const NO_SIGNAL = say("No signal. Everything stays on this phone.");

/**
 * Why there was no answer to use, by status; any other is of a site that does not answer.
 * @param {number} status
 */
function usual(status) {
  /** @type {Record<number, string>} */
  const known = {
    401: say("You are signed out. Sign in again. Everything stays on this phone until then."),
    403: say("The session was renewed. Trying again."),
    404: say("You can no longer walk this job. What was not sent stays on this phone. Call the office."),
    400: say("The server could not read what was sent. Nothing is lost. Call the office."),
  };
  return known[status] ?? say("The server does not answer. Everything stays on this phone.");
}

/**
 * Some facts of an entry as they are sent.
 * @param {Walk.Entry} entry @param {string[]} names
 */
function some(entry, names) {
  const facts = /** @type {Record<string, unknown>} */ (/** @type {unknown} */ (entry));
  return Object.fromEntries(names.map((name) => [name, facts[name]]));
}

export class Sync {
  /**
   * `page` has person, job, urls. `said` is told in words how it goes, `refused` what the site does
   * not take, before that is noted; `changed` whenever anything did, with what is fresh of the job.
   * @param {Walk.Page} page @param {Walk.Told} told
   */
  constructor(page, { said, refused, changed }) {
    this.page = page;
    this.said = said;
    this.refused = refused;
    this.changed = changed;
    this.csrf = "";
    this.wait = SHORTEST;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
  }

  async load() {
    const had = await store.entries(this.page.person, this.page.job);
    const data = /** @type {Walk.Job | null} */ (await this.read(this.page.urls.data));
    if (!data) return null;
    if (data.person !== this.page.person) {
      this.said(say("Someone else is signed in on this phone. Reload this page."));
      return null;
    }
    this.csrf = data.csrf;
    await store.keepJob(this.page.person, this.page.job, data);
    for (const entry of had) {
      if (![store.WAITING, store.REFUSED].includes(entry.state)) await store.remove(entry.id);
    }
    await this.changed(data);
    return data;
  }

  // One at a time, whatever calls it, in whichever tab.
  async run() {
    clearTimeout(this.timer);
    await navigator.locks.request("studbay-walk", { ifAvailable: true }, async (lock) => {
      if (lock) await this.send();
    });
  }

  async send() {
    const waiting = await this.waiting();
    if (!waiting.length) return;
    if (navigator.onLine === false) { // nothing leaves the phone, so all of it can still be taken back
      this.said(NO_SIGNAL);
      return this.later();
    }
    if (!this.csrf && !(await this.load())) return this.later();
    if (!(await this.sendAll(waiting))) return this.later();
    this.wait = SHORTEST;
    await this.load();
    if ((await this.waiting()).length) this.later();
  }

  /**
   * Ticks, then photographs, then site changes, then fixes, each after what its maker was shown; false from the first that got no answer.
   * @param {Walk.Entry[]} waiting
   */
  async sendAll(waiting) {
    const ticks = waiting.filter((entry) => entry.kind === "tick");
    for (let start = 0; start < ticks.length; start += BATCH) {
      if (!(await this.sendTicks(ticks.slice(start, start + BATCH)))) return false;
    }
    for (const kind of ONE_BY_ONE) {
      for (const entry of waiting.filter((each) => each.kind === kind)) {
        if (!(await this.sendEntry(entry))) return false;
      }
    }
    return true;
  }

  /** @param {Walk.Entry} entry */
  sendEntry(entry) {
    if (entry.kind === "photograph") return this.sendPhotograph(entry);
    if (entry.kind === "pulled") return this.sendPulled(entry);
    if (entry.kind === "built") return this.sendBuilt(entry);
    return entry.kind === "fix" ? this.sendFix(entry) : this.sendSiteChange(/** @type {Walk.Entry<Walk.SiteChange>} */ (entry));
  }

  /** @param {Walk.Entry<Walk.Tick>[]} waiting */
  async sendTicks(waiting) {
    const ticks = await store.sending(waiting);
    if (!ticks.length) return true;
    const names = ["id", "item", "outcome", "fingerprint", "made_at", "known_at", "note", "measured_mm", "measured_typed", "given"];
    const sent = ticks.map((tick) => some(tick, names));
    const body = JSON.stringify({ phone_now: new Date().toISOString(), ticks: sent });
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    const answer = await this.read(this.page.urls.sync, { method: "POST", headers, body });
    if (!answer) return false;
    const made = new Map(ticks.map((tick) => [tick.id, tick]));
    for (const each of /** @type {{ taken: Walk.Taken[] }} */ (answer).taken) {
      const tick = made.get(each.id);
      if (tick) await this.mark(tick, each);
    }
    return true;
  }

  /** @param {Walk.Entry<Walk.Photograph>} entry */
  async sendPhotograph(entry) {
    const body = new FormData();
    for (const name of /** @type {const} */ (["id", "item", "fingerprint"])) body.append(name, entry[name]);
    body.append("file", new Blob([entry.bytes], { type: entry.type }), `${entry.id}.jpg`);
    return this.sendOne(entry, this.page.urls.photograph, { "X-CSRFToken": this.csrf }, body);
  }

  /** @param {Walk.Entry<Walk.SiteChange>} entry */
  async sendSiteChange(entry) {
    const body = JSON.stringify(some(entry, ["id", "box", "at_mm", "height_mm", "note", "made_at"]));
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    return this.sendOne(entry, this.page.urls.siteChange, headers, body);
  }

  /** @param {Walk.Entry<Walk.Fix>} fix */
  async sendFix(fix) {
    if (!(await store.sending([fix])).length) return true;
    const sent = { ...some(fix, ["id", "base", "made_at", "withdraws"]), changes: [fix.change] };
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    return this.sendOne(fix, this.page.urls.fix, headers, JSON.stringify(sent));
  }

  /** @param {Walk.Entry<Walk.Pulled>} pulled */
  async sendPulled(pulled) {
    if (!(await store.sending([pulled])).length) return true;
    const sent = some(pulled, ["id", "circuit", "shown", "hops", "made_at", "withdraws"]);
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    return this.sendOne(pulled, this.page.urls.pulled, headers, JSON.stringify(sent));
  }

  /** @param {Walk.Entry<Walk.Built>} built */
  async sendBuilt(built) {
    if (!(await store.sending([built])).length) return true;
    const sent = some(built, ["id", "change", "made_at", "withdraws"]);
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    return this.sendOne(built, this.page.urls.built, headers, JSON.stringify(sent));
  }

  /** @param {Walk.Entry} entry @param {string} url @param {Record<string, string>} headers @param {FormData | string} body */
  async sendOne(entry, url, headers, body) {
    const answer = await this.read(url, { method: "POST", headers, body });
    if (!answer) return false;
    await this.mark(entry, /** @type {Walk.Taken} */ (answer));
    return true;
  }

  /**
   * The page that undoing leads to is not wanted here: what came of it is read anew.
   * @param {string} url
   */
  async undo(url) {
    if (!this.csrf && !(await this.load())) return false;
    const headers = { "X-CSRFToken": this.csrf };
    const words = {
      signal: say("No signal. Nothing was undone. Try again with a signal."),
      422: say("Too late to undo: this item was recorded again since. Verify it again."),
    };
    return Boolean(await this.ask(url, { method: "POST", headers }, { leadsOn: true, words }));
  }

  /** @param {Walk.Entry} entry @param {{ state: string, says: string }} became */
  async mark(entry, { state, says }) {
    if (state === store.REFUSED) await this.refused(entry);
    await store.mark(entry.id, state, says);
    await this.changed(null);
  }

  async waiting() {
    const found = await store.entries(this.page.person, this.page.job);
    return found.filter((entry) => entry.state === store.WAITING);
  }

  /**
   * What the site told, or null when it could not be read; then `said` tells why.
   * @param {string} url @param {RequestInit} [options]
   * @returns {Promise<unknown>}
   */
  async read(url, options) {
    const answer = await this.ask(url, options, { words: {} });
    if (!answer) return null;
    try {
      return await answer.json();
    } catch { // it broke off, or a network's own page answered: asked again later, like no answer
      this.said(usual(answer.status));
      return null;
    }
  }

  /**
   * The answer, or null when there was none to use; then `said` tells why. `leadsOn`: an answer that
   * leads to another page is one to use. `words` by status are of this call alone.
   * @param {string} url @param {RequestInit | undefined} options
   * @param {{ leadsOn?: boolean, words: Record<number, string> & { signal?: string } }} more
   */
  async ask(url, options, { leadsOn, words }) {
    let answer;
    try {
      answer = await fetch(url, { credentials: "same-origin", redirect: "manual", ...options });
    } catch {
      this.said(words.signal ?? NO_SIGNAL);
      return null;
    }
    this.page.signedOut(answer.status === 401);
    if (answer.ok || (leadsOn && answer.type === "opaqueredirect")) return answer;
    if (answer.status === 403) this.csrf = "";
    this.said(words[answer.status] || usual(answer.status));
    return null;
  }

  /**
   * Sends after so many milliseconds, unless something sends before.
   * @param {number} wait
   */
  soon(wait) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.run(), wait);
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.run(), this.wait * (0.7 + 0.6 * Math.random()));
    this.wait = Math.min(LONGEST, this.wait * 2);
  }
}
