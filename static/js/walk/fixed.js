// Where a line that is not to code is closed at the place itself, by the change of one fact.

/**
 * What stands beside a line that is not to code; nothing yet.
 * @param {Walk.Item} _item
 * @returns {HTMLElement | null}
 */
export const fixedControl = (_item) => null;
