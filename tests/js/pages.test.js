// What types promise of a page stands in its template: an id that is gone, or is of another element, is a fault.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const read = (path) => readFileSync(new URL(path, import.meta.url), "utf-8");
const TAGS = {
  Anchor: "a", Button: "button", Details: "details", Dialog: "dialog", Div: "div", Form: "form", Heading: "h2", Input: "input",
  OList: "ol", Paragraph: "p", Select: "select", Span: "span", TextArea: "textarea", SVG: "svg", Path: "path", Progress: "progress",
};

for (const [page, types] of [["jobs/board", "draw"], ["jobs/walk", "walk"]]) {
  const declared = /interface Elements \{([^}]*)\}/.exec(read(`types/${types}.d.ts`))[1];
  const template = read(`../../templates/${page}.html`);
  for (const [, id, type] of declared.matchAll(/"?([\w-]+)"?: (\w+);/g)) {
    test(`${page}.html has #${id} as ${type}`, () => {
      if (id === "board-data") return assert.match(template, /json_script:"board-data"/);
      const tag = new RegExp(`<(\\w+)[^<>]*\\sid="${id}"`).exec(template)?.[1];
      const kind = type.replace(/^(HTML|SVG(?=.))/, "").replace(/Element$/, "");
      return kind ? assert.equal(tag, TAGS[kind]) : assert.ok(tag);
    });
  }
}
