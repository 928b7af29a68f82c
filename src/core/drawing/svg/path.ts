/**
 * SVG path data to subpaths of strokes. svgpath reads the text (glued numbers and flags, relative commands);
 * arcs are turned to their centre form here (SVG 1.1 appendix F.6), so that they stay arcs under transforms.
 */
import svgPath from "svgpath";
import type { Point } from "../../geometry/shape.ts";
import { atan2, cos, hypot, radians, sin, TAU } from "../../geometry/trig.ts";
import { bezier, conic, type Stroke } from "../curve/stroke.ts";

export interface Subpath {
  readonly strokes: readonly Stroke[];
  readonly closed: boolean;
}

export interface PathRead {
  readonly subpaths: readonly Subpath[];
  /** The data stopped making sense somewhere; what came before it was read. */
  readonly broken: boolean;
}

interface Pen {
  readonly subpaths: Subpath[];
  strokes: Stroke[];
  at: Point;
  start: Point;
  broken: boolean;
}

export function parsePath(data: string): PathRead {
  const path = svgPath(data);
  const pen: Pen = {
    subpaths: [],
    strokes: [],
    at: { x: 0, y: 0 },
    start: { x: 0, y: 0 },
    broken: false,
  };
  path
    .abs()
    .unshort()
    .iterate((segment) => {
      draw(pen, segment as readonly (string | number)[]);
    });
  lift(pen, false);
  const fault = (path as unknown as { err?: string }).err ?? "";
  return { subpaths: pen.subpaths, broken: pen.broken || fault !== "" };
}

function lift(pen: Pen, closed: boolean): void {
  if (pen.strokes.length > 0) pen.subpaths.push({ strokes: pen.strokes, closed });
  pen.strokes = [];
}

function draw(pen: Pen, segment: readonly (string | number)[]): void {
  const n = segment.slice(1).map(Number);
  const point = (i: number): Point => ({ x: n[i] ?? 0, y: n[i + 1] ?? 0 });
  switch (segment[0]) {
    case "M":
      lift(pen, false);
      pen.at = pen.start = point(0);
      return;
    case "L":
      lineTo(pen, point(0));
      return;
    case "H":
      lineTo(pen, { x: n[0] ?? 0, y: pen.at.y });
      return;
    case "V":
      lineTo(pen, { x: pen.at.x, y: n[0] ?? 0 });
      return;
    case "C":
      curveTo(pen, [point(0), point(2), point(4)]);
      return;
    case "Q":
      curveTo(pen, [point(0), point(2)]);
      return;
    case "A":
      arcTo(pen, n);
      return;
    case "Z":
    case "z":
      if (pen.strokes.length > 0) lineTo(pen, pen.start);
      lift(pen, true);
      pen.at = pen.start;
      return;
    default:
      // svgpath also takes a command of an abandoned draft of SVG, which draws no curve that is agreed on.
      pen.broken = true;
  }
}

function lineTo(pen: Pen, to: Point): void {
  if (to.x !== pen.at.x || to.y !== pen.at.y) pen.strokes.push({ kind: "line", from: pen.at, to });
  pen.at = to;
}

function curveTo(pen: Pen, points: readonly Point[]): void {
  pen.strokes.push(bezier([pen.at, ...points]));
  pen.at = points[points.length - 1] as Point;
}

function arcTo(pen: Pen, n: readonly number[]): void {
  const [rx = 0, ry = 0, turn = 0, large = 0, sweep = 0, x = 0, y = 0] = n;
  const to = { x, y };
  const stroke = ellipseArc(
    pen.at,
    to,
    Math.abs(rx),
    Math.abs(ry),
    radians(turn),
    large !== 0,
    sweep !== 0,
  );
  if (stroke === undefined) {
    lineTo(pen, to);
    return;
  }
  pen.strokes.push(stroke);
  pen.at = to;
}

/** Undefined where the arc is a line or nothing: a radius of 0, or equal ends (F.6.2). */
// biome-ignore lint/complexity/useMaxParams: the arguments of SVG's arc command.
function ellipseArc(
  from: Point,
  to: Point,
  givenX: number,
  givenY: number,
  turn: number,
  large: boolean,
  positive: boolean,
): Stroke | undefined {
  if (givenX === 0 || givenY === 0 || (from.x === to.x && from.y === to.y)) return undefined;
  const c = cos(turn);
  const s = sin(turn);
  const dx = (from.x - to.x) / 2;
  const dy = (from.y - to.y) / 2;
  const px = c * dx + s * dy;
  const py = -s * dx + c * dy;
  // Radii too small to reach are scaled up until they do (F.6.6).
  const lambda = hypot(px / givenX, py / givenY);
  const k = Math.max(1, lambda);
  const rx = givenX * k;
  const ry = givenY * k;
  const q = (px / rx) ** 2 + (py / ry) ** 2;
  const root = Math.sqrt(Math.max(0, 1 / q - 1)) * (large === positive ? -1 : 1);
  const ux = (root * rx * py) / ry;
  const uy = (-root * ry * px) / rx;
  const centre = {
    x: c * ux - s * uy + (from.x + to.x) / 2,
    y: s * ux + c * uy + (from.y + to.y) / 2,
  };
  const start = atan2((py - uy) / ry, (px - ux) / rx);
  const end = atan2((-py - uy) / ry, (-px - ux) / rx);
  let sweep = (end - start) % TAU;
  if (positive && sweep <= 0) sweep += TAU;
  if (!positive && sweep >= 0) sweep -= TAU;
  const u = { x: rx * c, y: rx * s };
  const v = { x: -ry * s, y: ry * c };
  return { ...conic(centre, u, v, start, sweep), from, to };
}
