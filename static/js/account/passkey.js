// Passkeys: made and asked for by the browser. What it gives goes into a hidden field of the form.

/**
 * @typedef {Record<string, unknown>} Asked what the site asks a passkey to sign
 * @typedef {{ supported: () => boolean, create: (asked: Asked) => Promise<object>,
 *   get: (asked: Asked) => Promise<object> }} Library
 */

const webauthn = /** @type {{ webauthnJSON?: Library }} */ (window).webauthnJSON;
/** The browser's own list beneath the name, until a button is pressed. */
const waiting = new AbortController();

/** @returns {Asked} */
const options = () => JSON.parse(document.getElementById("passkey-options")?.textContent ?? "{}");

/**
 * @template {HTMLElement} Kind
 * @param {HTMLElement} form
 * @param {string} mark
 */
const part = (form, mark) => /** @type {Kind} */ (form.querySelector(`[data-${mark}]`));

/** @param {HTMLFormElement} form */
async function toSignIn(form) {
  const answer = await fetch(form.action, { headers: { Accept: "application/json" } });
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  return /** @type {Asked} */ ((await answer.json()).request_options);
}

/** @param {HTMLFormElement} form @param {object} credential */
function send(form, credential) {
  /** @type {HTMLInputElement} */
  const field = part(form, "credential");
  field.value = JSON.stringify(credential);
  form.submit();
}

/** @type {Record<string, (library: Library, form: HTMLFormElement) => Promise<object>>} */
const WAYS = {
  add: async (library) => library.create(options()),
  prove: async (library) => library.get(options()),
  "sign-in": async (library, form) => library.get(await toSignIn(form)),
};

/** @param {Library} library @param {HTMLFormElement} form */
async function press(library, form) {
  const fault = part(form, "fault");
  fault.hidden = true;
  waiting.abort();
  try {
    send(form, await WAYS[form.dataset.passkey ?? ""](library, form));
  } catch {
    fault.hidden = false;
  }
}

/**
 * Where the browser can, it offers a passkey beneath the field of the name.
 * @param {Library} library @param {HTMLFormElement} form
 */
async function offer(library, form) {
  const able = await window.PublicKeyCredential?.isConditionalMediationAvailable?.();
  if (!able) return;
  try {
    const asked = { ...(await toSignIn(form)), mediation: "conditional", signal: waiting.signal };
    send(form, await library.get(asked));
  } catch {
    // Nobody chose one, or a button was pressed instead.
  }
}

/** @type {NodeListOf<HTMLFormElement>} */
const forms = document.querySelectorAll("form[data-passkey]");
for (const form of forms) {
  /** @type {HTMLButtonElement} */
  const button = part(form, "start");
  if (!webauthn?.supported()) {
    form.querySelector("[data-unable]")?.removeAttribute("hidden");
    continue;
  }
  button.addEventListener("click", () => press(webauthn, form));
  // Disabled in the page until here: a press before the script listens would be lost.
  button.disabled = false;
  if (form.dataset.passkey === "sign-in") offer(webauthn, form);
}
