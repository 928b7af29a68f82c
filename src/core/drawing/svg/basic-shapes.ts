/**
 * The basic shapes of SVG as subpaths (SVG 1.1 ch. 9; auto radii as in SVG 2 sec. 10.2).
 */
import type { Point } from "../../geometry/shape.ts";
import { TAU } from "../../geometry/trig.ts";
import { conic, type Stroke } from "../curve/stroke.ts";
import { parseLength, parseNumbers, userUnits } from "./length.ts";
import { type PathRead, parsePath, type Subpath } from "./path.ts";
import { attribute, type Element } from "./tree.ts";

export interface Port {
  readonly width: number;
  readonly height: number;
}

export const SHAPES: ReadonlySet<string> = new Set([
  "rect",
  "circle",
  "ellipse",
  "line",
  "polyline",
  "polygon",
  "path",
]);

/** The subpaths of a shape; percentages are of the viewport. */
export function shapeSubpaths(e: Element, port: Port): PathRead {
  if (e.name === "path") return parsePath(attribute(e, "d") ?? "");
  return { subpaths: simpleSubpaths(e, port), broken: false };
}

function simpleSubpaths(e: Element, port: Port): Subpath[] {
  const x = (name: string): number => userUnits(attribute(e, name), 0, port.width);
  const y = (name: string): number => userUnits(attribute(e, name), 0, port.height);
  switch (e.name) {
    case "rect":
      return rectangle(e, port, x, y);
    case "circle": {
      const whole = Math.sqrt((port.width ** 2 + port.height ** 2) / 2);
      const r = userUnits(attribute(e, "r"), 0, whole);
      return oval({ x: x("cx"), y: y("cy") }, r, r);
    }
    case "ellipse": {
      const [rx, ry] = radii(e, port);
      return oval({ x: x("cx"), y: y("cy") }, rx ?? 0, ry ?? 0);
    }
    case "line":
      return joined(
        [
          { x: x("x1"), y: y("y1") },
          { x: x("x2"), y: y("y2") },
        ],
        false,
      );
    case "polyline":
    case "polygon": {
      const n = parseNumbers(attribute(e, "points") ?? "");
      const points: Point[] = [];
      for (let i = 0; i + 1 < n.length; i += 2)
        points.push({ x: n[i] as number, y: n[i + 1] as number });
      return joined(points, e.name === "polygon");
    }
    default:
      return [];
  }
}

function joined(points: readonly Point[], closed: boolean): Subpath[] {
  const strokes: Stroke[] = [];
  const last = closed ? points.length : points.length - 1;
  for (let i = 0; i < last; i++) {
    const from = points[i] as Point;
    const to = points[(i + 1) % points.length] as Point;
    if (from.x !== to.x || from.y !== to.y) strokes.push({ kind: "line", from, to });
  }
  return strokes.length === 0 ? [] : [{ strokes, closed }];
}

function oval(centre: Point, rx: number, ry: number): Subpath[] {
  if (!(rx > 0) || !(ry > 0)) return [];
  return [{ strokes: [conic(centre, { x: rx, y: 0 }, { x: 0, y: ry }, 0, TAU)], closed: true }];
}

/** rx and ry, each undefined where absent, auto or negative; one alone stands for both. */
function radii(e: Element, port: Port): [number | undefined, number | undefined] {
  const one = (name: string, whole: number): number | undefined => {
    const text = attribute(e, name);
    if (parseLength(text) === undefined) return undefined;
    const value = userUnits(text, 0, whole);
    return value >= 0 ? value : undefined;
  };
  const rx = one("rx", port.width);
  const ry = one("ry", port.height);
  return [rx ?? ry, ry ?? rx];
}

function rectangle(
  e: Element,
  port: Port,
  px: (name: string) => number,
  py: (name: string) => number,
): Subpath[] {
  const x = px("x");
  const y = py("y");
  const w = px("width");
  const h = py("height");
  if (!(w > 0) || !(h > 0)) return [];
  const [givenX = 0, givenY = 0] = radii(e, port);
  // One radius stands for the other before either is held to half its side.
  const rx = Math.min(givenX, w / 2);
  const ry = Math.min(givenY, h / 2);
  if (rx === 0 || ry === 0) {
    return joined(
      [
        { x, y },
        { x: x + w, y },
        { x: x + w, y: y + h },
        { x, y: y + h },
      ],
      true,
    );
  }
  const strokes: Stroke[] = [];
  const side = (from: Point, to: Point): void => {
    if (from.x !== to.x || from.y !== to.y) strokes.push({ kind: "line", from, to });
  };
  const corner = (cx: number, cy: number, quarter: number, from: Point, to: Point): void => {
    const c = conic(
      { x: cx, y: cy },
      { x: rx, y: 0 },
      { x: 0, y: ry },
      (quarter * TAU) / 4,
      TAU / 4,
    );
    strokes.push({ ...c, from, to });
  };
  const [l, r, t, b] = [x + rx, x + w - rx, y + ry, y + h - ry];
  side({ x: l, y }, { x: r, y });
  corner(r, t, 3, { x: r, y }, { x: x + w, y: t });
  side({ x: x + w, y: t }, { x: x + w, y: b });
  corner(r, b, 0, { x: x + w, y: b }, { x: r, y: y + h });
  side({ x: r, y: y + h }, { x: l, y: y + h });
  corner(l, b, 1, { x: l, y: y + h }, { x, y: b });
  side({ x, y: b }, { x, y: t });
  corner(l, t, 2, { x, y: t }, { x: l, y });
  return [{ strokes, closed: true }];
}
