// Buttons that only a script answers are disabled in the page; a press before it listens is not lost.
// @ts-check

/** Enable them, once the script listens. @param {ParentNode} [root] */
export function awake(root = document) {
  for (const button of root.querySelectorAll("button[data-wakes]")) {
    button.removeAttribute("disabled");
    button.removeAttribute("data-wakes");
  }
}
