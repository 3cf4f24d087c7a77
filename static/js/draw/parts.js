// The parts of a house by where they stand and by id: what finds them, names them, and takes away
// what rested on one that is gone.

const LISTS = /** @type {const} */ (["storeys", "areas", "rooms", "counters", "panels", "circuits", "appliances", "boxes", "cables"]);

/**
 * A copy with every list there.
 * @param {House.Given} house
 */
export function whole(house) {
  const made = structuredClone(house);
  for (const list of LISTS) made[list] ??= [];
  return /** @type {House.Whole} */ (made);
}

/**
 * The part that a path leads to; the house itself for an empty one.
 * @param {object} house @param {House.Path} path
 * @returns {House.Part | undefined}
 */
export function find(house, path) {
  let part = /** @type {House.Part | undefined} */ (house);
  for (let i = 0; i < path.length; i += 2) {
    const list = /** @type {House.Part[]} */ (part?.[path[i]] ?? []);
    const key = path[i + 1];
    part = typeof key === "number" ? list[key] : list.find((each) => each.id === key);
    if (part === undefined) return undefined;
  }
  return part;
}

/**
 * The part with an id, where it is known to be there.
 * @template {{ id: string }} T
 * @param {readonly T[]} parts @param {unknown} id
 */
export function byId(parts, id) {
  const found = parts.find((each) => each.id === id);
  if (!found) throw new RangeError(`no part ${id}`);
  return found;
}

/** @param {House.Whole} house @param {string} roomId @param {string} wallId */
export const wallOf = (house, roomId, wallId) => byId(byId(house.rooms, roomId).walls ?? [], wallId);

/**
 * The beginning of an id, which has no accents.
 * @param {string} name
 */
export const stemOf = (name) => name.normalize("NFD").replaceAll(/\p{M}/gu, "").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-");

/**
 * An id that none of these parts has: the stem itself where it may stand alone, or with a number.
 * @param {readonly { id: string }[]} parts @param {string} stem
 */
export function free(parts, stem, from = 1) {
  const taken = new Set(parts.map((part) => part.id));
  if (!taken.has(stem) && !/[-a-zA-Z]$/.test(stem)) return stem;
  for (let n = from; ; n += 1) {
    const sep = stem.length > 1 && !stem.endsWith("-") ? "-" : "";
    if (!taken.has(`${stem}${sep}${n}`)) return `${stem}${sep}${n}`;
  }
}

/**
 * What rests on a part that is gone goes with it.
 * @param {House.Whole} house @param {string | number} list @param {string | number} id
 */
export function forget(house, list, id) {
  if (list === "rooms") forgetRoom(house, id);
  if (list === "counters") {
    for (const box of house.boxes.filter((each) => each.place.counter === id)) forgetEnd(house, box.id);
    house.boxes = house.boxes.filter((box) => box.place.counter !== id);
  }
  if (list === "boxes" || list === "panels" || list === "appliances") forgetEnd(house, id);
  if (list === "panels") {
    for (const circuit of house.circuits.filter((each) => each.panel === id)) forgetCircuit(house, circuit.id);
    house.circuits = house.circuits.filter((each) => each.panel !== id);
  }
  if (list === "circuits") forgetCircuit(house, id);
}

/** @param {House.Whole} house @param {string | number} id */
function forgetRoom(house, id) {
  for (const name of /** @type {const} */ (["counters", "panels", "appliances", "boxes"])) {
    for (const part of house[name].filter((each) => each.room === id)) forget(house, name, part.id);
  }
  house.counters = house.counters.filter((each) => each.room !== id);
  house.panels = house.panels.filter((each) => each.room !== id);
  house.appliances = house.appliances.filter((each) => each.room !== id);
  house.boxes = house.boxes.filter((each) => each.room !== id);
}

/**
 * Cables that ended there, and switches of it.
 * @param {House.Whole} house @param {string | number} id
 */
function forgetEnd(house, id) {
  house.cables = house.cables.filter((cable) => !cable.ends.some((end) => end === id));
  for (const device of house.boxes.flatMap((box) => box.devices ?? [])) {
    const kept = device.controls?.filter((each) => each !== id);
    if (kept && kept.length !== device.controls?.length) device.controls = kept;
  }
}

/** @param {House.Whole} house @param {string | number} id */
function forgetCircuit(house, id) {
  house.cables = house.cables.filter((cable) => cable.circuit !== id);
  for (const part of [...house.boxes.flatMap((box) => box.devices ?? []), ...house.appliances]) {
    if (part.circuit === id) delete part.circuit;
    if (part.second_circuit === id) delete part.second_circuit;
  }
}
