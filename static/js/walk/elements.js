// What cards are made of: elements that are made once and changed in place.

/**
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag @param {object} [given] @param {(Node | string)[]} inside
 */
export function make(tag, given = {}, ...inside) {
  const element = Object.assign(document.createElement(tag), given);
  element.append(...inside);
  return element;
}

/**
 * Sets what differs and nothing else, so that nothing flickers or is read aloud again.
 * @template {object} T
 * @param {T} element @param {Partial<T>} given
 */
export function put(element, given) {
  for (const name of /** @type {(keyof T)[]} */ (Object.keys(given))) {
    const value = /** @type {T[keyof T]} */ (given[name]);
    if (element[name] !== value) element[name] = value;
  }
}
