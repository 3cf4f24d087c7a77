export interface PanzoomOptions {
  maxScale?: number;
  minScale?: number;
  step?: number;
  contain?: "inside" | "outside";
  panOnlyWhenZoomed?: boolean;
  touchAction?: string;
  cursor?: string;
  animate?: boolean;
  duration?: number;
}
export interface PanzoomObject {
  getScale(): number;
  getPan(): { x: number; y: number };
  pan(x: number, y: number, options?: PanzoomOptions & { force?: boolean }): unknown;
  zoom(scale: number, options?: PanzoomOptions & { force?: boolean }): unknown;
  zoomIn(options?: PanzoomOptions): unknown;
  zoomOut(options?: PanzoomOptions): unknown;
  zoomWithWheel(event: WheelEvent): unknown;
  reset(options?: PanzoomOptions): unknown;
  setOptions(options: PanzoomOptions): void;
}
export default function Panzoom(
  element: HTMLElement | SVGElement,
  options?: PanzoomOptions,
): PanzoomObject;
