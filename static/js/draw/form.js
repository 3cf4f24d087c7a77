// A form for whatever is chosen, drawn from the published schema of house files: each fact that a
// part may have, the ones people change first, the rest folded away.
import { say } from "../say.js";
import { parse, told } from "./lengths.js";

/** @type {Record<string, string>} */
const DEFS = {
  rooms: "Room", walls: "Wall", openings: "Opening", fixtures: "Fixture", counters: "Counter",
  interruptions: "Interruption", boxes: "Box", devices: "Device", panels: "Panel", circuits: "Circuit",
  cables: "Cable", appliances: "Appliance", storeys: "Storey", areas: "Area",
};
/** @type {Record<string, string[]>} */
const FIRST = {
  Room: ["name", "kind", "area", "ceiling_mm", "vehicle_bays", "risers", "joins"],
  Wall: ["length_mm", "outside", "kind"],
  Opening: ["kind", "at_mm", "width_mm", "swing", "sill_mm", "to_grade"],
  Fixture: ["at_mm", "width_mm", "depth_mm", "top_mm"],
  Counter: ["top_mm", "depth_mm", "length_mm"],
  Interruption: ["kind", "at_mm", "width_mm", "behind_mm"],
  Box: ["name", "gangs", "volume_ml"],
  Device: ["kind", "circuit", "ways", "amperes", "dedicated_to"],
  Panel: ["rating_a", "spaces"],
  Circuit: ["name", "breaker_a", "poles", "protection"],
  Cable: ["kind", "awg", "insulated", "circuit", "length_mm"],
  Appliance: ["name", "kind", "volt_amperes", "volts", "burns_fuel"],
};
/** @type {Record<string, string>} */
const PARTS = {
  Room: say("room"), Wall: say("wall"), Opening: say("opening"), Fixture: say("fixture"), Counter: say("counter"),
  Interruption: say("interruption"), Box: say("box"), Device: say("device"), Panel: say("panel"),
  Circuit: say("circuit"), Cable: say("cable"), Appliance: say("appliance"), Storey: say("storey"), Area: say("area"),
};
/** @type {Record<string, string>} */
const YES = { yes: say("yes"), no: say("no") };
const HIDDEN = ["id", "room", "storey", "x_mm", "y_mm", "heading_deg", "turn_deg", "wall", "surface"];

/** @param {House.Path} path */
export const definition = (path) => DEFS[String(path.at(-2))];

/**
 * What a part is, in a word.
 * @param {House.Path} path
 */
export const partWord = (path) => PARTS[definition(path)];

/** @typedef {Record<string, string[]>} Choices The ids that a fact is one of, by its name. */

export class Form {
  /**
   * `changed(path, name, value)` is called for each fact that somebody alters.
   * @param {HTMLElement} place @param {Record<string, Draw.Schema>} schema
   * @param {(path: House.Path, name: string, value: Exclude<Draw.Entered, undefined>) => void} changed
   */
  constructor(place, schema, changed) {
    this.place = place;
    this.schema = schema;
    this.changed = changed;
  }

  /** @param {House.Path} path @param {House.Part} part @param {Choices} choices */
  show(path, part, choices) {
    const def = definition(path);
    const properties = this.schema[def].properties ?? {};
    const names = Object.keys(properties).filter((name) => !HIDDEN.includes(name) && this.plain(properties[name]));
    const first = (FIRST[def] ?? []).filter((name) => names.includes(name));
    const rest = names.filter((name) => !first.includes(name));
    /** @type {HTMLElement[]} */
    const fields = [...first.map((name) => this.field(path, name, properties[name], part, choices))];
    if (part.place?.wall) fields.push(...this.onWall(path, part.place, choices));
    if (rest.length) {
      const more = element("details", {}, element("summary", { class: "tall" }, say("all other facts")));
      more.append(...rest.map((name) => this.field(path, name, properties[name], part, choices)));
      fields.push(more);
    }
    this.place.replaceChildren(...fields);
  }

  /** @param {House.Path} path @param {House.Place} place @param {Choices} choices */
  onWall(path, place, choices) {
    const properties = this.schema.OnWall.properties ?? {};
    return ["at_mm", "height_mm"].map((name) =>
      this.field([...path, "place"], name, properties[name], { ...place }, choices));
  }

  /**
   * A value of its own, or a list of short names.
   * @param {Draw.Schema} schema
   */
  plain(schema) {
    const kind = this.kind(schema);
    return ["string", "number", "integer", "boolean", "enum", "names"].includes(kind.type);
  }

  /**
   * @param {Draw.Schema} schema
   * @returns {Draw.Kind}
   */
  kind(schema) {
    if (schema.anyOf) {
      const kinds = schema.anyOf.filter((each) => each.type !== "null");
      return kinds.length === 1 ? { ...this.kind(kinds[0]), missing: true } : { type: "other" };
    }
    if (schema.$ref) {
      const target = this.schema[schema.$ref.slice(schema.$ref.lastIndexOf("/") + 1)];
      return target.enum ? { type: "enum", values: target.enum } : { type: "other" };
    }
    if (schema.enum) return { type: "enum", values: schema.enum, number: schema.type === "integer" };
    if (schema.type === "array") return { type: schema.items?.type === "string" ? "names" : "other" };
    return { type: schema.type ?? "other" };
  }

  /**
   * @param {House.Path} path @param {string} name @param {Draw.Schema} schema
   * @param {House.Part} part @param {Choices} choices
   */
  field(path, name, schema, part, choices) {
    const kind = this.kind(schema);
    const value = part[name] ?? schema.default ?? null;
    const id = `fact-${path.join("-")}-${name}`;
    const label = element("label", { for: id, title: say(schema.description ?? "") }, say(words(name)));
    const input = this.input(id, name, kind, value, choices[name]);
    input.addEventListener("change", () => {
      const read = this.read(input, name, kind);
      input.setCustomValidity(read === undefined ? say("This cannot be read.") : "");
      if (read === undefined) input.reportValidity();
      else this.changed(path, name, read);
    });
    return element("p", { class: "fact" }, label, input);
  }

  /**
   * @param {string} id @param {string} name @param {Draw.Kind} kind @param {unknown} value
   * @param {string[] | undefined} names
   */
  input(id, name, kind, value, names) {
    if (kind.type === "boolean" && !kind.missing) {
      const box = element("input", { id, type: "checkbox" });
      box.checked = Boolean(value);
      return box;
    }
    const options = optionsOf(kind, names);
    if (options) {
      const select = element("select", { id });
      if (kind.missing || names) select.append(element("option", { value: "" }, say("not recorded yet")));
      for (const [each, said] of options) select.append(element("option", { value: each }, said));
      select.value = chosen(value);
      return select;
    }
    const input = element("input", { id, type: "text", autocomplete: "off" });
    input.value = written(name, value);
    if (kind.missing) input.placeholder = say("not recorded yet");
    if (name.endsWith("_mm")) input.inputMode = "text";
    return input;
  }

  /**
   * What was entered; null for not recorded; undefined when it cannot be read.
   * @param {HTMLInputElement | HTMLSelectElement} input @param {string} name @param {Draw.Kind} kind
   * @returns {Draw.Entered}
   */
  read(input, name, kind) {
    if (input instanceof HTMLInputElement && input.type === "checkbox") return input.checked;
    const text = input.value.trim();
    if (text) return readText(text, name, kind);
    return kind.missing || kind.type === "names" ? null : undefined;
  }
}

/** @param {string} text @param {string} name @param {Draw.Kind} kind */
function readText(text, name, kind) {
  if (kind.type === "boolean") return text === "yes";
  if (kind.type === "enum") return kind.number ? Number(text) : text;
  if (kind.type === "names") return text.split(",").map((each) => each.trim()).filter(Boolean);
  if (name.endsWith("_mm")) return parse(text) ?? undefined;
  return kind.type === "number" || kind.type === "integer" ? numeral(text) : text;
}

/** @param {string} text */
function numeral(text) {
  const number = Number(text.replace(",", "."));
  return Number.isFinite(number) ? number : undefined;
}

/**
 * What a fact can be, each with its word; null where it is entered as text.
 * @param {Draw.Kind} kind @param {string[] | undefined} names
 * @returns {[string, string][] | null}
 */
function optionsOf(kind, names) {
  if (kind.type === "names") return null;
  if (kind.type === "boolean") return ["yes", "no"].map((each) => [each, YES[each]]);
  if (kind.type === "enum") return (kind.values ?? []).map((each) => [String(each), say(words(String(each)))]);
  return names ? names.map((each) => [each, words(each)]) : null;
}

/** @param {unknown} value */
function chosen(value) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value ?? "");
}

/** @param {string} name @param {unknown} value */
function written(name, value) {
  if (Array.isArray(value)) return value.join(", ");
  if (value === null) return "";
  return name.endsWith("_mm") ? told(Number(value)) : String(value);
}

/** @type {Record<string, string>} */
const UNITS = { ml: "mL", a: "A" };

/**
 * The English of a name in the schema; config/languages/sources.py makes the same of it.
 * @param {string} name
 */
export const words = (name) => name.replace(/_(mm|ml|kg|a|deg)$/, (_, unit) => `, ${UNITS[unit] ?? unit}`).replaceAll("_", " ");

/**
 * A value where no form explains it: as the house file has it, or in the reader's language.
 * @param {string} value
 */
export function valueWord(value) {
  const plain = words(value), said = say(plain);
  return said === plain ? value : said;
}

/**
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} name @param {Record<string, string>} attributes @param {(Node | string)[]} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function element(name, attributes, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}
