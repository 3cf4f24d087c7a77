// The elements of the page that the drawing board takes hold of, by their ids.

/**
 * @template {keyof Draw.Elements} Id
 * @param {Id} id
 */
export const $ = (id) => /** @type {Draw.Elements[Id]} */ (/** @type {unknown} */ (document.getElementById(id)));
