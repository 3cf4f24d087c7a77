// The plan on the page of a job: pinched and dragged, and what is tapped on it is opened.
// @ts-check
import { say } from "../say.js";
import { svgElement } from "./svg.js";
import Panzoom from "../../vendor/panzoom/panzoom-4.6.2.js";

const WORDS = 12; // pixels of a word on the screen, whatever the scale
const MOST = 14;
const ROOM_PART = 0.8; // of the view that a room fills when it is gone to
const DRAGGED = 8; // pixels; a finger that went further has dragged, not tapped

/**
 * @typedef {object} Opened what is to be opened for a tap
 * @property {string} room
 * @property {string} [number] of the line, for a tap on a ring
 * @property {string} listed the room that the line is listed in
 */

/**
 * @typedef {object} Run a circuit on this storey
 * @property {string} words
 * @property {string} path
 * @property {string[]} nodes
 */

/**
 * The first of these that has an attribute, or stands in what has it.
 * @param {Element[]} elements @param {string} name
 */
function first(elements, name) {
  for (const each of elements) {
    const found = each.closest(`[${name}]`)?.getAttribute(name);
    if (found) return found;
  }
  return "";
}

/** The plan in its view; `open` is given what was tapped. */
export class Plan {
  /**
   * @param {HTMLElement} box
   * @param {(tapped: Opened) => void} open
   */
  constructor(box, open) {
    this.view = /** @type {HTMLElement} */ (box.querySelector(".plan-view"));
    this.svg = /** @type {SVGSVGElement} */ (box.querySelector("svg"));
    this.open = open;
    this.said = /** @type {HTMLElement} */ (box.querySelector(".runs-said"));
    this.runsAddress = box.dataset.runs ?? "";
    /** @type {Promise<Run[]> | undefined} */
    this.runs = undefined;
    /** @type {((point: { x: number, y: number } | null) => void) | undefined} */
    this.asked = undefined;
    this.unit = 0;
    this.fitted = 0; // the scale that the words were last set to
    this.steps = (this.svg.dataset.scales ?? "").split(" ").map(Number);
    this.panzoom = Panzoom(this.svg, {
      maxScale: MOST,
      minScale: 1,
      step: 0.5,
      panOnlyWhenZoomed: true,
      touchAction: "pan-y",
      cursor: "default",
    });
    this.svg.addEventListener("panzoomchange", () => this.fit());
    this.view.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    this.listen();
    for (const button of box.querySelectorAll("button[data-zoom]")) {
      button.addEventListener("click", () => this.zoomBy(/** @type {HTMLElement} */ (button)));
    }
    addEventListener("resize", () => this.measure());
    addEventListener("keydown", (event) => event.key === "Escape" && this.asked?.(null));
    this.measure();
  }

  /** How many pixels a millimetre of the sheet is before it is enlarged; asked when the page changes its width. */
  measure() {
    this.unit = this.svg.clientWidth / this.svg.viewBox.baseVal.width;
    this.fitted = 0;
    this.fit();
  }

  /**
   * Set the words to the scale: their size stays, and those are shown that have room. Nothing is asked
   * of the page here, so that a move of several steps is laid out once.
   */
  fit() {
    const times = this.panzoom.getScale();
    if (!this.unit || times === this.fitted) return;
    this.fitted = times;
    const scale = this.unit * times;
    this.svg.style.fontSize = `${WORDS / scale}px`;
    this.svg.dataset.step = String(this.steps.filter((least) => scale >= least).length - 1);
    this.svg.style.setProperty("--zoom", String(times));
    this.svg.style.touchAction = times > 1 ? "none" : "pan-y";
  }

  /** The wheel moves the page unless somebody holds a key or has zoomed. @param {WheelEvent} event */
  wheel(event) {
    if (!event.ctrlKey && this.panzoom.getScale() === 1) return;
    this.panzoom.zoomWithWheel(event);
  }

  /** @param {HTMLElement} button */
  zoomBy(button) {
    if (button.dataset.zoom === "in") this.panzoom.zoomIn();
    else if (button.dataset.zoom === "out") this.panzoom.zoomOut();
    else this.panzoom.reset();
  }

  /** A tap is a finger that came and went in one place; a drag opens nothing. */
  listen() {
    let x = 0;
    let y = 0;
    this.svg.addEventListener("pointerdown", (event) => {
      ({ clientX: x, clientY: y } = event);
    });
    this.svg.addEventListener("click", (event) => {
      const far = Math.hypot(event.clientX - x, event.clientY - y);
      if (far <= DRAGGED) this.tap(/** @type {Element} */ (event.target), event);
    });
  }

  /**
   * The next tap on the plan, in mm of its sheet, instead of what it would open; null when given up.
   * @param {string} room
   * @returns {Promise<{ x: number, y: number } | null>}
   */
  nextTap(room) {
    this.asked?.(null);
    this.goTo(room);
    this.view.scrollIntoView({ block: "center" });
    this.said.textContent = say("Tap the place on the plan, or press Escape.");
    return new Promise((done) => {
      this.asked = (point) => {
        this.asked = undefined;
        this.said.textContent = "";
        done(point);
      };
    });
  }

  /** @param {MouseEvent} event */
  pointAt(event) {
    const matrix = /** @type {DOMMatrix} */ (this.svg.getScreenCTM());
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    return { x, y };
  }

  /**
   * @param {Element} target
   * @param {MouseEvent} event
   */
  tap(target, event) {
    if (this.asked) return void this.asked(this.pointAt(event));
    const marked = target.closest("[data-lines]");
    // Whatever is drawn over it. Asked once, before anything is written that would be laid out for it.
    const under = document.elementsFromPoint(event.clientX, event.clientY);
    const room = first(under, "data-room"), node = first(under, "data-node");
    if (!room) return;
    const number = marked?.getAttribute("data-opens") ?? marked?.getAttribute("data-lines")?.split(" ")[0];
    this.open({ room, number, listed: marked?.getAttribute("data-in") ?? room });
    if (node) this.showRuns(node);
  }

  /** Draw the circuits on a box, a panel or an appliance, and name them. @param {string} node */
  async showRuns(node) {
    this.runs ??= fetch(this.runsAddress).then((answer) => (answer.ok ? answer.json() : []));
    /** @type {Run[]} */
    const runs = await this.runs.catch(() => []);
    const here = runs.filter((run) => run.nodes.includes(node));
    const group = this.svg.querySelector("g.runs") ?? this.svg.appendChild(svgElement("g"));
    group.setAttribute("class", "runs");
    group.replaceChildren(...here.map((run) => svgElement("path", { d: run.path })));
    this.said.textContent = here.map((run) => run.words).join(" · ");
  }

  /** Go near a room, so that it fills the view. @param {string} room */
  goTo(room) {
    const floor = /** @type {SVGGraphicsElement | null} */ (
      this.svg.querySelector(`g.room[data-room="${CSS.escape(room)}"]`)
    );
    if (!floor) return;
    const { x, y, width, height } = floor.getBBox();
    const sheet = this.svg.viewBox.baseVal;
    const view = this.view.getBoundingClientRect();
    const { unit } = this;
    const fits = Math.min(view.width / (width * unit), view.height / (height * unit));
    const scale = Math.max(1, Math.min(MOST, fits * ROOM_PART));
    // Panzoom scales round the middle of the element, then moves it, in its own pixels.
    const middleX = (sheet.x + sheet.width / 2 - (x + width / 2)) * unit;
    const middleY = (sheet.y + sheet.height / 2 - (y + height / 2)) * unit;
    this.panzoom.zoom(scale, { animate: false });
    this.panzoom.pan(middleX, middleY, { force: true });
    this.fit();
  }

  /** The whole storey again. */
  whole() {
    this.panzoom.reset({ animate: false });
    this.fit();
  }
}
