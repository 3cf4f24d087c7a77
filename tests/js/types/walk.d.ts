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
    /** Whether it is confirmed with its room; of a job that was kept before there was `check`. */
    as_drawn?: boolean;
    /** Whether it may be answered N/A; a job that was kept before does not say. */
    na?: boolean;
    /** What follows is unknown of a job that was kept before. */
    card?: CardKind; check?: Check; first?: boolean; number?: number | null; photograph_first?: boolean; photographed?: boolean;
    parts?: string[];
    /** The facts whose change can settle it; without a job that was kept before. */
    fixes?: Fix.Fix[];
  }
  type CardKind = "boxes" | "cables" | "own" | "outside" | "panel" | "breakers";
  /** How an OK is given: with the card, at its line, or nothing waits for one. */
  type Check = "card" | "line" | "";
  /** A box that is looked at closely: what is checked of it by itself, and where its figure is kept. */
  interface Sampled { box: string; items: string[]; measured: string | null }
  interface Room { /** Its id in the house; empty where it is no room. */ id?: string; name: string; area: string; kind?: string; items: Item[]; sample?: Sampled[] }
  interface Job { as_of: string; csrf: string; person: string; revision?: number | null; rooms: Room[]; circuits?: Circuit[]; nodes?: Node[];
    /** Without these of a job that was kept before a phone said what was built. */
    boxes?: BuiltBox[]; walls?: Record<string, string[]>; devices?: { kind: string; says: string }[];
  }

  /** What somebody gave at an item. */
  interface Tick { kind: "tick"; outcome: Outcome; note: string; measured_mm: number | null; measured_typed?: string; given?: "room" }
  interface Photograph { kind: "photograph"; bytes: ArrayBuffer; type: string }
  interface SiteChange { kind: "site-change"; box: string; at_mm: number; height_mm: number | null; note: string; at_typed?: string; height_typed?: string }
  /** One change of one fact; `ok` is what its limit says of it, `judged` the same in words; null where only the site can say. */
  interface Fix { kind: "fix"; change: Fix.Change; withdraws: boolean; ok: boolean | null; judged: string }
  /** From what is fed already, the panel first, to what it feeds. */
  type Hop = [string, string];
  interface Circuit { id: string; label: string; name?: string; panel: string; hops: Hop[]; item: string | null }
  interface Node { id: string; room: string }
  /** A circuit as it was pulled, with its runs as the phone was shown them. */
  interface Pulled { kind: "pulled"; circuit: string; shown: Hop[]; hops: Hop[]; withdraws: boolean }
  interface OnCircuits {
    /** OK for the path of each of these. */
    asDrawn(circuits: Circuit[]): unknown;
    /** Whether the phone keeps it. */
    pulled(circuit: Circuit, given: Pulled): Promise<boolean>;
    /** Whether somebody said of it on site that it is as drawn. */
    seen(circuit: Circuit): boolean;
    /** What a change of a circuit would withdraw; empty where nothing. */
    withdraws(): string;
    name(circuit: Circuit): import("../../../static/js/walk/built.js").CircuitName;
  }
  /** A box as the house has it; its place goes back as it came. */
  interface BuiltBox { id: string; room: string; what: string; where: string; place: { surface: string; wall?: string; at_mm?: number; height_mm?: number | null } }
  interface Where { surface: "wall" | "ceiling"; wall: string; at_mm: number | null; at_typed: string; height_mm: number | null; height_typed: string }
  type Change =
    | { kind: "moved"; box: string; shown: BuiltBox["place"]; where: Where }
    | { kind: "removed"; box: string; shown: BuiltBox["place"] }
    | { kind: "added"; room: string; device: string; where: Where; fed_from: string }
    | { kind: "named"; circuit: string; shown: string; name: string };
  /** What was built otherwise than drawn; `part` is the box, the circuit or the room that it is about. */
  interface Built { kind: "built"; part: string; change: Change; withdraws: boolean }
  interface OnBuilt extends OnTyped {
    /** Whether the phone keeps it. */
    built(given: Built, title: string): Promise<boolean>;
    /** What a change of the house would withdraw; empty where nothing. */
    withdraws(): string;
  }
  type Given = Tick | Photograph | SiteChange | Fix | Pulled | Built;
  /** What the phone puts to it. */
  interface Stamp { id: string; person: string; job: string; item: string; fingerprint: string; made_at: string; known_at: string; base?: number }
  type New<T extends Given = Given> = T & Stamp;
  /** As it stands in the queue: with what became of it. */
  type Entry<T extends Given = Given> = New<T> & { state: string; says: string; sent?: boolean };

  /** What is typed or chosen and not sent: of an item its fields and folds, of the page where it is. */
  interface Fields {
    note?: string; measured?: string; figure?: string; from_left?: string; height?: string; elsewhere?: boolean; wall?: string; named?: string; working?: boolean;
    /** A line that is opened. */
    listed?: boolean;
    room?: string; passed?: boolean; scroll?: number;
  }
  interface TypedRow { person: string; job: string; item: string; fields: Fields }

  interface Page {
    person: string; job: string;
    urls: { data: string; sync: string; photograph: string; siteChange: string; fix: string; pulled: string; built: string };
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
  /** What a line and its answers ask of their page. */
  interface OnLine extends OnTyped {
    card(item: Item, named: "title" | "says"): import("../../../static/js/walk/card.js").Card;
    /** OK for all of these at one tap; with the room, or the one item by itself. */
    confirm(items: Item[], name: string, byRoom: boolean): void;
    /** Whether the phone keeps it. */
    answer(item: Item, given: Given, fields: Fields): Promise<boolean>;
    shot(item: Item, file: File): Promise<void>;
  }
  /** What a card asks of its page. */
  interface On extends OnLine {
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
    send: HTMLButtonElement; leave: HTMLFormElement; progress: HTMLSpanElement; bar: HTMLProgressElement; quota: HTMLParagraphElement;
    "undo-bar": HTMLParagraphElement; "undo-words": HTMLSpanElement; undo: HTMLButtonElement; circuits: HTMLDetailsElement; built: HTMLDetailsElement;
  }
}

/** Chromium alone has it: the browser wakes the worker when the network is back. */
interface ServiceWorkerRegistration {
  sync?: { register(tag: string): Promise<void> };
}
