// A few rules that find faults; how code looks is left to whoever writes it.
const NAMES = {
  browser: [
    "AbortController", "Blob", "BroadcastChannel", "CSS", "DOMParser", "DOMPoint", "FormData", "HTMLInputElement", "IDBKeyRange",
    "HTMLDetailsElement", "HTMLElement", "Image", "IntersectionObserver", "Option", "SVGElement", "URL", "URLSearchParams", "addEventListener", "caches", "clearTimeout", "confirm", "createImageBitmap", "crypto", "document", "fetch", "history",
    "localStorage", "location", "navigator", "performance", "scrollTo", "scrollY", "sessionStorage", "setTimeout", "structuredClone", "window",
  ],
  worker: ["URL", "caches", "fetch", "self"],
  node: ["document", "DOMException", "IDBDatabase", "IDBObjectStore", "clearTimeout", "navigator", "Response", "TextEncoder", "URL", "setImmediate", "structuredClone"],
};
const globals = (names) => Object.fromEntries(names.map((name) => [name, "readonly"]));

const rules = {
  "no-undef": "error",
  "no-unused-vars": ["error", { argsIgnorePattern: "^_", caughtErrors: "all" }],
  eqeqeq: "error",
  "prefer-const": "error",
  complexity: ["error", 10],
  "no-nested-ternary": "error",
  "no-var": "error",
  "no-shadow": "error",
};

export default [
  { files: ["static/js/**/*.js"], ignores: ["static/js/walk/worker.js"], rules, languageOptions: { globals: globals(NAMES.browser) } },
  { files: ["static/js/walk/worker.js"], rules, languageOptions: { sourceType: "script", globals: globals(NAMES.worker) } },
  { files: ["tests/js/*.js"], rules, languageOptions: { globals: globals(NAMES.node) } },
];
