declare namespace Fix {
  type Kind = "length" | "volume" | "weight" | "angle" | "count" | "choice" | "done" | "added" | "moved";

  interface Limits {
    least: number | null;
    most: number | null;
    least_says?: string;
    most_says?: string;
  }

  /** A fact that can be corrected, as inspections/overview/correctable.py writes it. */
  interface Fix extends Limits {
    path: (string | number)[];
    kind: Kind;
    name: string;
    now: unknown;
    now_says: string;
    choices: { value: unknown; says: string }[];
    to: any;
    to_says: string;
  }

  /** A part that a question is about, and where its own answer is written. */
  interface Asked { part: string; path: (string | number)[]; key: string }
  /** What is missing of all these parts alike; `shared`: one value in the house stands for them. */
  interface Question extends Limits {
    path: (string | number)[]; kind: Kind; says: string; where?: string; choices: { value: unknown; says: string }[]; to: any;
    shared: boolean; asked: Asked[];
  }

  /** A place along a wall that was tapped on the plan, with the same in words. */
  interface Tapped { at: { surface: "wall"; wall: string; at_mm: number }; says: string }
  /** Where the walls of a room are on the plan: left end and right end, mm east and down. */
  type Walls = Record<string, [number, number, number, number]>;

  /** One change of one fact; the page or the phone adds its id and the revision that was shown. */
  interface Change {
    path: (string | number)[];
    was: unknown;
    now: unknown;
    typed: string;
  }
}
