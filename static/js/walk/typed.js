// What somebody typed or chose at an item and has not sent: kept as it is typed, told to other tabs.
import * as store from "./store.js";

export class Typed {
  /**
   * `kept` is called with an item whose fields were written; `failed` when the phone keeps nothing.
   * @param {string} person @param {string} job
   * @param {{ kept: (item: string) => void, failed: (fault: unknown) => void }} told
   */
  constructor(person, job, { kept, failed }) {
    this.person = person;
    this.job = job;
    this.kept = kept;
    this.failed = failed;
    /** @type {Map<string, Walk.Fields>} */
    this.items = new Map(); // what is typed, by item
    /** @type {Map<string, Walk.Fields>} */
    this.unkept = new Map(); // fields that are not written yet, by item
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    /** @type {Promise<void>} */
    this.writing = Promise.resolve();
  }

  // What the phone keeps, also of another tab, with what is not written yet. In turn with writing.
  read() {
    this.writing = this.writing.then(async () => {
      const found = await store.typedOf(this.person, this.job);
      for (const [item, fields] of this.unkept) found.set(item, { ...found.get(item), ...fields });
      this.items = found;
    });
    return this.writing;
  }

  /** @param {string} item @returns {Walk.Fields} */
  of(item) {
    return this.items.get(item) ?? {};
  }

  /**
   * Written at once, since a page that is left takes with it what waits for a timer; what is typed
   * while one write is under way goes into the next together. `wait` is for what comes by the dozen.
   * @param {string} item @param {Walk.Fields} fields
   */
  set(item, fields, wait = 0) {
    this.items.set(item, { ...this.of(item), ...fields });
    this.unkept.set(item, { ...this.unkept.get(item), ...fields });
    clearTimeout(this.timer);
    if (wait) this.timer = setTimeout(() => this.keep(), wait);
    else this.keep();
  }

  /**
   * These fields were sent as they are and are empty from now on; what was typed since stays.
   * @param {string} item @param {Walk.Fields} fields
   */
  sent(item, fields) {
    const now = /** @type {Record<string, unknown>} */ (this.of(item));
    const same = Object.entries(fields).filter(([name, value]) => (now[name] ?? "") === value);
    this.set(item, Object.fromEntries(same.map(([name]) => [name, ""])));
    return this.keep();
  }

  /**
   * These were sent and refused: they are typed again, where nothing else was typed since.
   * @param {string} item @param {Walk.Fields} fields
   */
  giveBack(item, fields) {
    const now = /** @type {Record<string, unknown>} */ (this.of(item));
    const empty = Object.entries(fields).filter(([name]) => !now[name]);
    this.set(item, Object.fromEntries(empty));
    return this.keep();
  }

  // Resolves when all is written, in the order that it was typed.
  keep() {
    clearTimeout(this.timer);
    this.writing = this.writing.then(() => this.write());
    return this.writing;
  }

  async write() {
    const now = this.unkept;
    this.unkept = new Map();
    for (const [item, fields] of now) {
      try {
        await store.type(this.person, this.job, item, fields);
        this.kept(item);
      } catch (fault) { // no room, or forbidden: it is on the page still, and tried again with the next
        this.unkept.set(item, { ...fields, ...this.unkept.get(item) });
        this.failed(fault);
      }
    }
  }
}
