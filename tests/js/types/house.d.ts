// A house as the drawing board has it: what its code reads of examples/house.schema.json. Every other
// fact of a part is carried along unread.
declare namespace House {
  type Point = [x: number, y: number];
  type Measure = number | null;

  interface Named { id: string; name: string }
  interface Stretch { wall: string; at_mm: number; width_mm: number }
  interface Opening { kind: string; at_mm: number; width_mm: number; sill_mm?: Measure; swing?: string | null }
  interface Interruption { kind: string; at_mm: number; width_mm: number; behind_mm?: Measure }
  interface Wall { id: string; length_mm: number; turn_deg?: number; kind?: string; outside?: boolean; openings?: Opening[] }
  interface Fixture {
    id: string; kind: string; wall?: string | null; at_mm?: Measure; width_mm?: Measure; depth_mm?: Measure; top_mm?: Measure;
  }
  interface Walls { x_mm?: number; y_mm?: number; heading_deg?: number; walls?: Wall[] }
  interface Room extends Named, Walls {
    kind: string; area: string; storey: string; closed?: boolean; ceiling_mm?: Measure; fixtures?: Fixture[] | null;
  }
  interface Counter {
    id: string; room: string; kind: string; along?: Stretch[]; length_mm?: Measure; depth_mm?: Measure; top_mm?: Measure;
    interruptions?: Interruption[];
  }
  interface Place {
    surface: string; wall?: string; counter?: string; at_mm?: Measure; height_mm?: Measure; x_mm?: Measure; y_mm?: Measure;
  }
  interface Device {
    kind: string; circuit?: string | null; second_circuit?: string | null; ways?: number; controls?: string[] | null;
  }
  interface Box { id: string; room: string; place: Place; name?: string | null; devices?: Device[] }
  interface Panel { id: string; room: string; rating_a?: number | null; spaces?: number | null }
  interface Circuit extends Named { panel: string; breaker_a: number }
  interface Appliance extends Named { room: string; circuit?: string | null; second_circuit?: string | null }
  interface Cable { id: string; kind: string; ends: [string, string]; circuit?: string | null; awg?: string | null }

  interface Given {
    storeys: Named[]; areas: Named[]; rooms: Room[];
    counters?: Counter[]; panels?: Panel[]; circuits?: Circuit[]; appliances?: Appliance[]; boxes?: Box[]; cables?: Cable[];
    rulebook?: string | null;
  }
  /** A house with each of its lists there, if empty. */
  interface Whole extends Required<Omit<Given, "rulebook">> { rulebook?: string | null }

  /** Where a part stands: list, id or number, list within it, id or number, and so on. */
  type Path = readonly (string | number)[];
  /** Any part, as its path finds it. */
  interface Part {
    [fact: string]: unknown;
    id?: string; name?: string | null; kind?: string; length_mm?: Measure; place?: Place;
    walls?: Wall[]; openings?: Opening[]; fixtures?: Fixture[] | null; interruptions?: Interruption[]; devices?: Device[];
  }
}
