// As much of a document as the cards of a walk ask for: elements that hold one another, one of them
// under somebody's finger, and an observer of the screen that has seen all.

class Node {
  parent = null;
  get parentElement() { return this.parent; }
  remove() {
    if (!this.parent) return;
    this.parent.nodes = this.parent.nodes.filter((each) => each !== this);
    if (this.contains(document.activeElement)) document.activeElement = document.body;
    this.parent = null;
  }
  contains(other) {
    for (let each = other; each; each = each.parent) if (each === this) return true;
    return false;
  }
  after(...given) { this.parent.insert(this.parent.nodes.indexOf(this) + 1, given); }
  before(...given) { this.parent.insert(this.parent.nodes.indexOf(this), given); }
}

class Text extends Node {
  constructor(text) { super(); this.text = text; }
  get textContent() { return this.text; }
}

export class Element extends Node {
  nodes = [];
  dataset = {};
  attributes = {};
  listeners = {};
  constructor(tag) {
    super();
    this.tagName = tag;
    if (["input", "button"].includes(tag)) this.value = "";
  }
  insert(at, given) {
    const made = given.map((each) => (each instanceof Node ? each : new Text(String(each))));
    for (const each of made) each.remove();
    this.nodes.splice(at, 0, ...made);
    for (const each of made) each.parent = this;
  }
  append(...given) { this.insert(this.nodes.length, given); }
  prepend(...given) { this.insert(0, given); }
  replaceChildren(...given) {
    for (const each of [...this.nodes]) each.remove();
    this.append(...given);
  }
  get firstChild() { return this.nodes[0] ?? null; }
  get children() { return this.nodes.filter((each) => each instanceof Element); }
  get childElementCount() { return this.children.length; }
  get textContent() { return this.nodes.map((each) => each.textContent).join(""); }
  set textContent(text) { this.replaceChildren(...(text ? [text] : [])); }
  setAttribute(name, value) { this.attributes[name] = value; }
  setCustomValidity() {}
  addEventListener(name, act) {
    const had = this.listeners[name];
    this.listeners[name] = had ? (event) => (had(event), act(event)) : act;
  }
  querySelector() { return null; }
  focus() { document.activeElement = this; }
  /** All within, itself first. */
  *all() {
    yield this;
    for (const each of this.children) yield* each.all();
  }
}

globalThis.IntersectionObserver = class {
  observe() {}
  unobserve() {}
  disconnect() {}
};
document.createElement = (tag) => new Element(tag);
document.createTextNode = (text) => new Text(text);
document.body = new Element("body");
document.activeElement = document.body;
