// What the drawing board speaks of: its sheet, its hand, the page's elements, the site's answers.
declare namespace Draw {
  /** A wall of a room on the sheet. */
  interface Side { wall: House.Wall; left: House.Point; along: House.Point; inward: House.Point }
  interface NearWall { room: House.Room; side: Side; wall: House.Wall; along: number; off: number; away: number }
  interface Frame { x: number; y: number; width: number; height: number }

  /** How a tool is put, and what it puts. */
  type Put =
    | { how: "choose" | "rect" | "polygon" | "counter" | "panel" | "cable" }
    | { how: "opening"; what: Omit<House.Opening, "at_mm"> }
    | { how: "interruption"; what: Omit<House.Interruption, "at_mm"> }
    | { how: "fixture"; what: { kind: string; width_mm: number; depth_mm: number; top_mm?: number } }
    | { how: "box"; what: House.Device[]; stem: string; height: number }
    | { how: "ceiling"; what: House.Device[]; stem: string }
    | { how: "island" | "appliance"; what: string };
  type Tool = Put & { name: string; words: string; group: string };
  /** What is held between a press and a release. */
  interface Drag {
    from: House.Point; by?: House.Point; node?: string; at?: House.Point | null; room?: string; parts?: SVGElement[];
  }
  interface Page {
    tell(text: string): void;
    roomKind(): string;
    circuit(): string;
    choose(path: House.Path | null): void;
  }

  /** JSON Schema, as far as pydantic writes it for house files. */
  interface Schema {
    type?: string; enum?: (string | number)[]; anyOf?: Schema[]; items?: Schema; $ref?: string;
    default?: unknown; description?: string; properties?: Record<string, Schema>;
  }
  interface Kind { type: string; values?: (string | number)[]; number?: boolean; missing?: boolean }
  /** What a fact was entered as; null for not recorded; undefined when it cannot be read. */
  type Entered = string | number | boolean | string[] | null | undefined;

  interface Data {
    person: number | string; job: string; base: number; house: House.Given; schema: Record<string, Schema>;
    lines: [number, number, number, number][]; fresh: boolean; urls: { look: string; finish: string };
  }
  interface Finding { title: string; where: string; says: string; verdict: string; room: string | null; subject: string | null }
  interface Looked { faults?: undefined; svg: string; counts: Record<string, number>; wanting: Finding[]; more: number }
  interface Proposal { kind: string; key: string; for: string; says: string; proof: string }
  interface Finished {
    faults?: undefined; proposals: Proposal[]; unsolved: { kind: string; for: string; why: string }[];
    not_to_code: { where: string; says: string }[]; house: House.Given;
  }
  interface Faulty { faults: string[] }

  /** The elements of templates/draw.html that its code takes hold of; pages.test.js compares. */
  interface Elements {
    "board-data": HTMLScriptElement; tools: HTMLDivElement; "room-kind": HTMLSelectElement; circuit: HTMLSelectElement; storey: HTMLSelectElement;
    rulebook: HTMLSelectElement; "show-cables": HTMLInputElement; board: SVGSVGElement; lines: SVGPathElement;
    said: HTMLParagraphElement; counts: HTMLElement; findings: HTMLOListElement; chosen: HTMLHeadingElement;
    parts: HTMLDivElement; facts: HTMLDivElement; undo: HTMLButtonElement; redo: HTMLButtonElement;
    remove: HTMLButtonElement; nearer: HTMLButtonElement; farther: HTMLButtonElement; all: HTMLButtonElement;
    outside: HTMLButtonElement; finish: HTMLButtonElement; "new-circuit": HTMLButtonElement; "add-storey": HTMLButtonElement;
    "storey-name": HTMLInputElement; studs: HTMLInputElement; picture: HTMLInputElement; between: HTMLInputElement;
    scale: HTMLButtonElement; record: HTMLFormElement; text: HTMLTextAreaElement; afresh: HTMLButtonElement;
    propose: HTMLDialogElement; proposals: HTMLDivElement; take: HTMLButtonElement; leave: HTMLButtonElement;
  }
}
