/**
 * The room of a slot or window for a tenon: its middle, its direction, how wide and how long it is between straight
 * walls. Fillets and relief as drawn are looked through: the walls' own lines tell.
 */
import { boundsOf, contains, distanceTo } from "../../geometry/contour.ts";
import { lengthOf } from "../../geometry/segment.ts";
import type { Line, Point } from "../../geometry/shape.ts";
import { atan2, cos, sin } from "../../geometry/trig.ts";
import type { Feature, Plate } from "../../plate/plate.ts";

export interface Room {
  readonly feature: Feature;
  readonly at: Point;
  /** Of the long walls, rad. */
  readonly angle: number;
  readonly width: number;
  /** Between the straight end walls, or between the middles of round ends. */
  readonly length: number;
  readonly round: boolean;
}

/** A slot is meant where the job's point lies in it or this near, mm. */
const NEAR = 1;
/** Walls are parallel and in one line within this, mm. */
const WALL = 0.01;
/** What is cut beyond the walls' lines for relief, as drawn, reaches no further, mm. */
const BEYOND = 4;

/** The slot or window at a point of one of these plates. */
export function featureAt(
  plates: readonly Plate[],
  p: Point,
): { plate: Plate; feature: Feature } | undefined {
  const open = plates.flatMap((plate) =>
    plate.features
      .filter((f) => f.kind !== "hole" && f.depth === undefined)
      .map((feature) => ({ plate, feature })),
  );
  return (
    open.find(({ feature }) => contains(feature.contour, p)) ??
    open.find(({ feature }) => distanceTo(feature.contour, p) <= NEAR)
  );
}

/** Undefined where the opening is no rectangle and no slot. */
export function roomOf(feature: Feature): Room | undefined {
  if (feature.kind === "slot") {
    const { width = 0, length = 0, angle = 0, at } = feature;
    return { feature, at, angle, width, length: length - width, round: true };
  }
  if (feature.kind !== "window") return undefined;
  const walls = feature.contour.segments.filter((s): s is Line => s.kind === "line");
  const longest = walls.reduce<Line | undefined>(
    (best, l) => (best === undefined || lengthOf(l) > lengthOf(best) ? l : best),
    undefined,
  );
  if (longest === undefined) return undefined;
  const angle = atan2(longest.to.y - longest.from.y, longest.to.x - longest.from.x);
  return rectangleAlong(feature, walls, angle);
}

function rectangleAlong(feature: Feature, walls: readonly Line[], angle: number): Room | undefined {
  const [c, s] = [cos(angle), sin(angle)];
  const turned = (p: Point): Point => ({ x: p.x * c + p.y * s, y: p.y * c - p.x * s });
  const levels: number[] = [];
  const uprights: number[] = [];
  for (const wall of walls) {
    const [a, b] = [turned(wall.from), turned(wall.to)];
    if (Math.abs(a.y - b.y) <= WALL) levels.push((a.y + b.y) / 2);
    else if (Math.abs(a.x - b.x) <= WALL) uprights.push((a.x + b.x) / 2);
    else return undefined;
  }
  const [y, x] = [two(levels), two(uprights)];
  if (x === undefined || y === undefined) return undefined;
  if (!within(feature, turned, x, y)) return undefined;
  const middle = { x: (x[0] + x[1]) / 2, y: (y[0] + y[1]) / 2 };
  const at = { x: middle.x * c - middle.y * s, y: middle.x * s + middle.y * c };
  const [along, across] = [x[1] - x[0], y[1] - y[0]];
  return along >= across
    ? { feature, at, angle, width: across, length: along, round: false }
    : { feature, at, angle: angle + Math.PI / 2, width: along, length: across, round: false };
}

/** Exactly two values, each within `WALL`. */
function two(values: readonly number[]): readonly [number, number] | undefined {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (values.length < 2 || high - low <= WALL) return undefined;
  const clear = values.every((v) => v - low <= WALL || high - v <= WALL);
  return clear ? [low, high] : undefined;
}

function within(
  feature: Feature,
  turned: (p: Point) => Point,
  x: readonly [number, number],
  y: readonly [number, number],
): boolean {
  const points = feature.contour.segments.map((s) => turned(s.from));
  const box = boundsOf(points.map((p) => ({ kind: "line", from: p, to: p })));
  return (
    box.min.x > x[0] - BEYOND &&
    box.max.x < x[1] + BEYOND &&
    box.min.y > y[0] - BEYOND &&
    box.max.y < y[1] + BEYOND
  );
}
