// The elements of the page of a walk, by their ids.

/**
 * @template {keyof Walk.Elements} Id
 * @param {Id} id
 */
export const at = (id) => /** @type {Walk.Elements[Id]} */ (document.getElementById(id));
