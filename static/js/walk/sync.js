// Sends what waits, again and again until the site has said what became of each.
import { say } from "../say.js";
import * as store from "./store.js";

const BATCH = 100;
const LONGEST = 60_000;

export class Sync {
  // `page` has person, job, urls. `said` is told in words how it goes, `refused` what the site does
  // not take, before that is noted; `changed` whenever anything did, with what is fresh of the job.
  constructor(page, { said, refused, changed }) {
    Object.assign(this, { page, said, refused, changed });
    this.csrf = "";
    this.wait = 2_000;
    this.timer = 0;
  }

  async load() {
    const had = await store.entries(this.page.person, this.page.job);
    const answer = await this.ask(this.page.urls.data);
    if (!answer) return null;
    const data = await answer.json();
    if (data.person !== this.page.person) {
      this.said(say("Somebody else is signed in on this phone. Open the page again."));
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
    let waiting = await this.waiting();
    if (!waiting.length) return;
    if (!this.csrf && !(await this.load())) return this.later();
    const ticks = waiting.filter((entry) => entry.kind === "tick");
    for (let start = 0; start < ticks.length; start += BATCH) {
      if (!(await this.sendTicks(ticks.slice(start, start + BATCH)))) return this.later();
    }
    for (const entry of waiting.filter((each) => each.kind === "photograph")) {
      if (!(await this.sendPhotograph(entry))) return this.later();
    }
    for (const entry of waiting.filter((each) => each.kind === "correction")) {
      if (!(await this.sendCorrection(entry))) return this.later();
    }
    this.wait = 2_000;
    await this.load();
    waiting = await this.waiting();
    if (waiting.length) this.later();
  }

  async sendTicks(ticks) {
    const names = ["id", "item", "outcome", "fingerprint", "made_at", "known_at", "note", "measured_mm"];
    const sent = ticks.map((tick) => Object.fromEntries(names.map((name) => [name, tick[name]])));
    const body = JSON.stringify({ phone_now: new Date().toISOString(), ticks: sent });
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    const answer = await this.ask(this.page.urls.sync, { method: "POST", headers, body });
    if (!answer) return false;
    const made = new Map(ticks.map((tick) => [tick.id, tick]));
    for (const each of (await answer.json()).taken) await this.mark(made.get(each.id), each.state, each.says);
    return true;
  }

  async sendPhotograph(entry) {
    const body = new FormData();
    for (const name of ["id", "item", "fingerprint"]) body.append(name, entry[name]);
    body.append("file", new Blob([entry.bytes], { type: entry.type }), `${entry.id}.jpg`);
    const headers = { "X-CSRFToken": this.csrf };
    const answer = await this.ask(this.page.urls.photograph, { method: "POST", headers, body });
    if (!answer) return false;
    const { state, says } = await answer.json();
    await this.mark(entry, state, says);
    return true;
  }

  async sendCorrection(entry) {
    const names = ["id", "box", "at_mm", "height_mm", "note", "made_at"];
    const body = JSON.stringify(Object.fromEntries(names.map((name) => [name, entry[name]])));
    const headers = { "Content-Type": "application/json", "X-CSRFToken": this.csrf };
    const answer = await this.ask(this.page.urls.correction, { method: "POST", headers, body });
    if (!answer) return false;
    const { state, says } = await answer.json();
    await this.mark(entry, state, says);
    return true;
  }

  // The page that undoing leads to is not wanted here: what came of it is read anew.
  async undo(url) {
    if (!this.csrf && !(await this.load())) return false;
    const headers = { "X-CSRFToken": this.csrf };
    const words = {
      signal: say("No signal. Nothing was undone; try again."),
      422: say("It cannot be undone any more: something was said of it since. Look again."),
    };
    return Boolean(await this.ask(url, { method: "POST", headers }, { leadsOn: true, words }));
  }

  async mark(entry, state, says) {
    if (state === store.REFUSED) await this.refused(entry);
    await store.mark(entry.id, state, says);
    await this.changed(null);
  }

  async waiting() {
    const found = await store.entries(this.page.person, this.page.job);
    return found.filter((entry) => entry.state === store.WAITING);
  }

  // The answer, or null when there was none to use; then `said` tells why. `leadsOn`: an answer that
  // leads to another page is one to use. `words` by status are of this call alone.
  async ask(url, options = {}, { leadsOn = false, words = {} } = {}) {
    let answer;
    try {
      answer = await fetch(url, { credentials: "same-origin", redirect: "manual", ...options });
    } catch {
      this.said(words.signal ?? say("No signal. Everything is kept on this phone."));
      return null;
    }
    this.page.signedOut(answer.status === 401);
    if (answer.ok || (leadsOn && answer.type === "opaqueredirect")) return answer;
    if (answer.status === 403) this.csrf = "";
    const usual = {
      401: say("You are signed out. Sign in again; everything is kept on this phone until then."),
      403: say("The site asks to begin again; trying once more."),
      404: say("This job is not yours to walk any more. What was not sent is kept on this phone."),
      400: say("The site could not read what was sent. Nothing is lost; tell the office."),
    };
    this.said(words[answer.status] || usual[answer.status] || say("The site does not answer. Everything is kept on this phone."));
    return null;
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.run(), this.wait * (0.7 + 0.6 * Math.random()));
    this.wait = Math.min(LONGEST, this.wait * 2);
  }
}
