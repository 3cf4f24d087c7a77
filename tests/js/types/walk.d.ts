// What a phone keeps, sends and is told on a walk: pages/walk.py has the other end.
declare namespace Walk {
  interface Measure { what: string; limit?: string; min_mm: number | null; max_mm: number | null }
  interface Seen { outcome: Outcome; by: string; at: string; note: string; measured_mm: number | null; measured?: string }
  interface Place { id: string; wall: string; at_mm: number; height_mm?: number | null }
  type Outcome = "ok" | "fix" | "cant_see" | "na";

  interface Item {
    id: string; verdict: string; fingerprint: string; standing: string; latest: Seen | null; contest: Seen[]; known_at?: string;
    measure: Measure | null; photographs: number; title: string; where: string; says: string; figure: string; limit: string;
    remedy: string; working: string[]; section: string; edition: string; known: string; box?: Place;
    withdraws: string; release: string; undo: string;
    /** Whether it is confirmed with its room; a job that was kept before does not say. */
    as_drawn?: boolean;
    /** Whether it may be answered N/A; a job that was kept before does not say. */
    na?: boolean;
  }
  interface Room { name: string; area: string; items: Item[] }
  interface Job { as_of: string; csrf: string; person: string; rooms: Room[] }

  /** What somebody gave at an item. */
  interface Tick { kind: "tick"; outcome: Outcome; note: string; measured_mm: number | null; measured_typed?: string; given?: "room" }
  interface Photograph { kind: "photograph"; bytes: ArrayBuffer; type: string }
  interface SiteChange { kind: "site-change"; box: string; at_mm: number; height_mm: number | null; note: string; at_typed?: string; height_typed?: string }
  type Given = Tick | Photograph | SiteChange;
  /** What the phone puts to it. */
  interface Stamp { id: string; person: string; job: string; item: string; fingerprint: string; made_at: string; known_at: string }
  type New<T extends Given = Given> = T & Stamp;
  /** As it stands in the queue: with what became of it. */
  type Entry<T extends Given = Given> = New<T> & { state: string; says: string; sent?: boolean };

  /** What is typed or chosen and not sent: of an item its fields and folds, of the page where it is. */
  interface Fields {
    note?: string; measured?: string; from_left?: string; height?: string; elsewhere?: boolean; working?: boolean;
    /** Taken out of what is as drawn; a rule whose items are listed. */
    apart?: boolean; listed?: boolean;
    room?: string; passed?: boolean; scroll?: number;
  }
  interface TypedRow { person: string; job: string; item: string; fields: Fields }

  interface Page {
    person: string; job: string;
    urls: { data: string; sync: string; photograph: string; siteChange: string };
    signedOut(so: boolean): void;
  }
  interface Told {
    said(words: string): void;
    refused(entry: Entry): void | Promise<void>;
    changed(fresh: Job | null): void | Promise<void>;
  }
  interface Taken { id: string; state: string; says: string }

  interface OnTyped {
    typed(item: string): Fields;
    type(item: string, fields: Fields): void;
  }
  /** What the card of all that is as drawn asks of its page. */
  interface OnRoom extends OnTyped {
    confirm(items: Item[]): void;
    takeBack(ids: string[]): void;
    /** An item is answered on its own card; `ticks` of it wait in the queue. */
    apart(item: Item, ticks: string[]): void;
    together(item: Item): void;
  }
  /** What a card asks of its page. */
  interface On extends OnTyped {
    answer(card: import("../../../static/js/walk/card.js").Card, given: Given, fields: Fields): Promise<void>;
    dismiss(entry: Entry): void;
    undo(item: Item): void;
  }
  /** As other tabs of the same walk are told. */
  interface Message { person: string; job: string; typed?: string; fresh?: boolean }

  /** The elements of templates/walk.html that its code takes hold of; pages.test.js compares. */
  interface Elements {
    unsafe: HTMLParagraphElement; signal: HTMLSpanElement; "sign-in": HTMLAnchorElement; before: HTMLButtonElement;
    room: HTMLSelectElement; after: HTMLButtonElement; "room-name": HTMLHeadingElement; told: HTMLParagraphElement;
    items: HTMLDivElement; passed: HTMLDetailsElement; "passed-count": HTMLElement; "passed-items": HTMLDivElement;
    send: HTMLButtonElement; leave: HTMLFormElement;
  }
}

/** Chromium alone has it: the browser wakes the worker when the network is back. */
interface ServiceWorkerRegistration {
  sync?: { register(tag: string): Promise<void> };
}
