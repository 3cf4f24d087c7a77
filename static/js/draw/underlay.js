// A picture of the paper plan beneath: two presses on it and the length between them give its scale.
import { say } from "../say.js";
import { parse } from "./lengths.js";

export class Underlay {
  /**
   * `between` gives the length between the two points as it was typed; `tell` what is to do next.
   * @param {SVGElement} layer @param {() => string} between @param {(text: string) => void} tell
   */
  constructor(layer, between, tell) {
    this.layer = layer;
    this.between = between;
    this.tell = tell;
    /** @type {{ width: number, height: number, scale: number } | null} */
    this.picture = null;
    /** @type {House.Point[] | null} The points that were pressed, while the scale is asked for. */
    this.marks = null;
  }

  /** @param {File} file */
  lay(file) {
    const image = new Image();
    image.onload = () => {
      this.picture = { width: image.naturalWidth, height: image.naturalHeight, scale: 12000 / image.naturalWidth };
      this.marks = null;
      this.layer.setAttribute("href", image.src);
      this.scaled(this.picture, 0, 0);
      this.tell(say("Press “Set scale”, then two points on the picture."));
    };
    image.onerror = () => this.tell(say("This file is not a picture. Choose a JPEG or PNG."));
    image.src = URL.createObjectURL(file);
  }

  /** @param {{ width: number, height: number, scale: number }} picture @param {number} x @param {number} y */
  scaled({ width, height, scale }, x, y) {
    const given = { x, y, width: width * scale, height: height * scale };
    for (const [name, value] of Object.entries(given)) this.layer.setAttribute(name, String(value));
  }

  ask() {
    if (this.picture) this.marks = [];
    this.tell(this.picture ? say("Press the first point.") : say("Choose a picture first."));
  }

  /**
   * One of the two points, where they are asked for; whether they were.
   * @param {House.Point} point
   */
  mark(point) {
    if (!this.picture || !this.marks) return false;
    this.marks.push(point);
    const [one, other] = this.marks;
    if (!other) this.tell(say("Now press the second point."));
    else {
      this.marks = null;
      this.rescale(this.picture, one, other);
    }
    return true;
  }

  /** @param {{ width: number, height: number, scale: number }} picture @param {House.Point} one @param {House.Point} other */
  rescale(picture, [ax, ay], [bx, by]) {
    const length = parse(this.between()), apart = Math.hypot(ax - bx, ay - by);
    if (!length || !apart) return this.tell(say("Enter the length between the two points first, such as 12 ft 6 in. or 3.8 m."));
    const times = length / apart;
    const x = Number(this.layer.getAttribute("x")), y = Number(this.layer.getAttribute("y"));
    picture.scale *= times;
    this.scaled(picture, ax - (ax - x) * times, ay - (ay - y) * times);
    return this.tell(say("Scale set."));
  }
}
