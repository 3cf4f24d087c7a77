// A photograph as it is kept and sent: small enough for a basement's signal, and how much room is left.
import { language, say } from "../say.js";
import { make } from "./elements.js";

const LONGEST = 1_600; // pixels
const QUALITY = 0.85;

/**
 * The picture scaled down, as JPEG; one that is small already, or that this browser cannot open, as it is.
 * @param {File} file
 * @returns {Promise<{ bytes: ArrayBuffer, type: string }>}
 */
export async function scaled(file) {
  const smaller = await drawn(file).catch(() => null);
  const kept = smaller ?? file;
  return { bytes: await kept.arrayBuffer(), type: kept.type };
}

/** @param {File} file */
async function drawn(file) {
  const picture = await createImageBitmap(file); // upright, as the camera was held
  const times = LONGEST / Math.max(picture.width, picture.height);
  if (times >= 1 && file.type === "image/jpeg") return null;
  const size = Math.min(times, 1);
  const canvas = make("canvas", { width: Math.round(picture.width * size), height: Math.round(picture.height * size) });
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
}

/**
 * How many photographs wait on this phone, and how much of its storage is taken; empty where none waits.
 * @param {Walk.Entry[]} waiting
 */
export async function quota(waiting) {
  const n = waiting.filter((entry) => entry.kind === "photograph").length;
  if (!n) return "";
  const { usage = 0, quota: all = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  if (!all) return say("Photos on this phone: {n}.", { n }); // WebKitGTK does not tell
  /** @param {number} bytes */
  const mb = (bytes) => Math.ceil(bytes / 1e6).toLocaleString(language);
  return say("Photos on this phone: {n}. Storage: {used} of {all} MB.", { n, used: mb(usage), all: mb(all) });
}

/**
 * A button that opens the camera, and gives each picture that was taken.
 * @param {HTMLElement} words @param {(file: File) => unknown} taken
 */
export function camera(words, taken) {
  const input = make("input", { type: "file", accept: "image/jpeg,image/png,image/webp" });
  input.setAttribute("capture", "environment");
  input.onchange = async () => {
    for (const file of [...(input.files ?? [])]) await taken(file);
    input.value = ""; // the same picture may be chosen once more
  };
  return { input, button: make("label", { className: "button camera" }, words, input) };
}
