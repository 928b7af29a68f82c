/**
 * Tenons of a plate: straight ends of its outline between two sides that turn back from them at right angles, and
 * the shoulders beside them where there are any. Corners of the tip may be rounded; roots may be sharp, rounded, or
 * relieved already as drawn.
 */
import { turnBetween } from "../../geometry/contour.ts";
import { distance, tangentAt } from "../../geometry/segment.ts";
import type { Line, Point, Segment } from "../../geometry/shape.ts";
import type { Plate } from "../../plate/plate.ts";

/** Corner fillets of a tip or root up to this are still a corner, mm. */
const FILLET = 1.6;
/** Corners square within this, as the cosine of the angle (about 3°). */
const SQUARE = 0.05;
/** Segments that meet under less than this are tangent, rad. */
const TANGENT = 0.02;

export interface Shoulder {
  /** Of the outline's segments. */
  readonly index: number;
  /** Where the side and the shoulder meet, or would meet. */
  readonly root: Point;
  readonly kind: "sharp" | "fillet" | "relieved";
}

export interface Tenon {
  /** Of the outline's segments: the side before the end, the end, the side after it. */
  readonly sides: readonly [before: number, end: number, after: number];
  readonly width: number;
  /** Middle of the end. */
  readonly at: Point;
  /** Away from the plate, unit. */
  readonly out: Point;
  /** From the higher shoulder to the end; 0 where a side has none. */
  readonly reach: number;
  readonly shoulders: readonly [before: Shoulder | undefined, after: Shoulder | undefined];
}

export function tenonsOf(plate: Plate): Tenon[] {
  const { segments } = plate.outer;
  return segments.flatMap((end, i) => {
    if (end.kind !== "line") return [];
    const before = sideIndex(segments, i, -1);
    const after = sideIndex(segments, i, 1);
    const [a, b] = [segments[before] as Segment, segments[after] as Segment];
    if (a.kind !== "line" || b.kind !== "line" || before === after) return [];
    if (!turnsLeft(a, end) || !turnsLeft(end, b)) return [];
    const u = tangentAt(end, 0);
    const out = { x: u.y, y: -u.x };
    const shoulders = [shoulderOf(segments, before, -1), shoulderOf(segments, after, 1)] as const;
    const width = Math.abs((b.from.x - a.to.x) * u.x + (b.from.y - a.to.y) * u.y);
    const at = { x: (end.from.x + end.to.x) / 2, y: (end.from.y + end.to.y) / 2 };
    const reach = reachOf(at, out, shoulders);
    return [{ sides: [before, i, after] as const, width, at, out, reach, shoulders }];
  });
}

function next(segments: readonly Segment[], i: number, way: 1 | -1): number {
  return (i + way + segments.length) % segments.length;
}

/** Past a rounded tip. */
function sideIndex(segments: readonly Segment[], end: number, way: 1 | -1): number {
  const i = next(segments, end, way);
  const s = segments[i] as Segment;
  return s.kind === "arc" && s.radius <= FILLET ? next(segments, i, way) : i;
}

/** A square convex corner of a counter-clockwise outline. */
function turnsLeft(a: Line, b: Line): boolean {
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return Math.abs(u.x * v.x + u.y * v.y) < SQUARE && u.x * v.y - u.y * v.x > 0;
}

function shoulderOf(segments: readonly Segment[], side: number, way: 1 | -1): Shoulder | undefined {
  const own = segments[side] as Line;
  const near = next(segments, side, way);
  const first = segments[near] as Segment;
  const rounded = first.kind === "arc";
  // Only bows into the plate or round its root lead to a shoulder.
  if (rounded && first.sweep > 0) return undefined;
  const index = rounded ? next(segments, near, way) : near;
  const shoulder = segments[index] as Segment;
  if (shoulder.kind !== "line" || index === side) return undefined;
  if (!turnsRight(own, shoulder, way)) return undefined;
  const root = crossing(own, shoulder);
  if (root === undefined) return undefined;
  if (!rounded) return { index, root, kind: "sharp" };
  const joints = way > 0 ? ([own, first, shoulder] as const) : ([shoulder, first, own] as const);
  const smooth =
    Math.abs(turnBetween(joints[0], joints[1])) < TANGENT &&
    Math.abs(turnBetween(joints[1], joints[2])) < TANGENT;
  return { index, root, kind: smooth ? "fillet" : "relieved" };
}

function turnsRight(side: Line, shoulder: Line, way: 1 | -1): boolean {
  const [a, b] = way > 0 ? [side, shoulder] : [shoulder, side];
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return Math.abs(u.x * v.x + u.y * v.y) < SQUARE && u.x * v.y - u.y * v.x < 0;
}

function crossing(a: Line, b: Line): Point | undefined {
  const u = tangentAt(a, 0);
  const v = tangentAt(b, 0);
  const cross = u.x * v.y - u.y * v.x;
  if (Math.abs(cross) < 1e-6) return undefined;
  const t = ((b.from.x - a.from.x) * v.y - (b.from.y - a.from.y) * v.x) / cross;
  return { x: a.from.x + t * u.x, y: a.from.y + t * u.y };
}

function reachOf(at: Point, out: Point, shoulders: Tenon["shoulders"]): number {
  const reaches = shoulders.map((s) =>
    s === undefined ? 0 : (at.x - s.root.x) * out.x + (at.y - s.root.y) * out.y,
  );
  return Math.max(0, Math.min(...reaches));
}

/** The two sides and the end, as lines of the outline that it now has. */
export function edgesOf(plate: Plate, { sides }: Tenon): Line[] {
  return sides.map((i) => plate.outer.segments[i] as Line);
}

export function sameTenon(a: Tenon, b: Tenon): boolean {
  return distance(a.at, b.at) < 1e-6;
}
