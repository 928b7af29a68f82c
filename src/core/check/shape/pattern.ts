/**
 * Hole patterns: four equal holes whose diagonals halve each other, and what hardware has such a pattern.
 *
 * Words: *across* is the distance of opposite holes (a bolt circle's diameter), *side* that of neighbours. People say
 * either, so both are always named. A *mount* is a motor's pattern, a *stack* that of circuit boards.
 * Sizes are common practice, no source: mounts 9, 12, 16, 19 across, also 16 × 19; stacks 16, 20, 25.5, 30.5, 35 in side.
 * Across and side of the two kinds are nowhere near each other, so that a pattern has one meaning or none.
 */
import { angleOf, distance } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { cos, sin, TAU } from "../../geometry/trig.ts";
import type { Feature } from "../../plate/plate.ts";

export const MOUNTS_ACROSS: readonly number[] = [9, 12, 16, 19];
export const STACK_SIDES: readonly number[] = [16, 20, 25.5, 30.5, 35];

/** A pattern this near a known size was meant as it, mm: half the way between the two nearest sizes is far more. */
const MEANT = 0.35;
/** Diagonals whose middles and lengths differ by less were drawn to be one pattern, mm. */
const TOGETHER = 0.6;
/** Holes of one pattern are drawn alike, mm. */
const ALIKE = 0.05;
/** Cosine of the angle between diagonals, about 5°: further off it is a rectangle, not a square. */
const CROSSED = 0.09;

export interface Pattern {
  readonly kind: "mount" | "stack" | "rectangle";
  readonly holes: readonly [Feature, Feature, Feature, Feature];
  readonly centre: Point;
  /** Of both diagonals, the shorter first. */
  readonly across: readonly [number, number];
  /** Mean lengths of opposite sides, the shorter first. */
  readonly sides: readonly [number, number];
  /** The size that it was meant to have: across for a mount, side for a stack. */
  readonly nominal: readonly [number, number];
}

interface Diagonal {
  readonly a: Feature;
  readonly b: Feature;
  readonly length: number;
  readonly middle: Point;
}

export function patternsOf(holes: readonly Feature[]): Pattern[] {
  const diagonals = diagonalsOf(holes);
  const found: Pattern[] = [];
  diagonals.forEach((e, i) => {
    for (const d of diagonals.slice(0, i)) {
      if (d.a === e.a || d.b === e.b || d.a === e.b || d.b === e.a) continue;
      if (Math.abs(diameter(d.a) - diameter(e.a)) > ALIKE) continue;
      if (distance(d.middle, e.middle) > TOGETHER) continue;
      const pattern = patternOf(d, e);
      if (pattern !== undefined) found.push(pattern);
    }
  });
  return found;
}

/** Longest that any known pattern or pair of standoffs has across, mm. */
const FURTHEST = 200;
/** Above this a hole takes no screw that this room knows, mm. */
const LARGEST = 6;

function diagonalsOf(holes: readonly Feature[]): Diagonal[] {
  const screws = holes.filter((h) => diameter(h) <= LARGEST);
  return screws.flatMap((b, i) =>
    screws.slice(0, i).flatMap((a) => {
      const length = distance(a.at, b.at);
      if (length > FURTHEST || Math.abs(diameter(a) - diameter(b)) > ALIKE) return [];
      const middle = { x: (a.at.x + b.at.x) / 2, y: (a.at.y + b.at.y) / 2 };
      return [{ a, b, length, middle }];
    }),
  );
}

function diameter(f: Feature): number {
  return f.diameter ?? 0;
}

function patternOf(d: Diagonal, e: Diagonal): Pattern | undefined {
  const [short, long] = d.length <= e.length ? [d, e] : [e, d];
  const holes = [short.a, long.a, short.b, long.b] as const;
  const [p, q, r, s] = holes.map((h) => h.at) as [Point, Point, Point, Point];
  const one = (distance(p, q) + distance(r, s)) / 2;
  const two = (distance(q, r) + distance(s, p)) / 2;
  const base = {
    holes,
    centre: { x: (p.x + q.x + r.x + s.x) / 4, y: (p.y + q.y + r.y + s.y) / 4 },
    across: [short.length, long.length] as const,
    sides: [Math.min(one, two), Math.max(one, two)] as const,
  };
  const equal = long.length - short.length <= TOGETHER;
  if (crossing(d, e) <= CROSSED) {
    const mount = [short.length, long.length].map((l) => nearest(l, MOUNTS_ACROSS));
    if (mount.every((m) => m !== undefined)) {
      return { ...base, kind: "mount", nominal: mount as unknown as [number, number] };
    }
    const side = nearest((one + two) / 2, STACK_SIDES);
    if (equal && side !== undefined) return { ...base, kind: "stack", nominal: [side, side] };
  }
  return equal ? { ...base, kind: "rectangle", nominal: base.sides } : undefined;
}

function crossing(d: Diagonal, e: Diagonal): number {
  const dot =
    (d.b.at.x - d.a.at.x) * (e.b.at.x - e.a.at.x) + (d.b.at.y - d.a.at.y) * (e.b.at.y - e.a.at.y);
  return Math.abs(dot) / (d.length * e.length || 1);
}

function nearest(length: number, sizes: readonly number[]): number | undefined {
  return sizes.find((s) => Math.abs(s - length) <= MEANT);
}

/** How far the worst hole is from where equal distances from the centre, square to each other, would have it. */
export function worstHole({ holes, centre, across }: Pattern): { hole: Feature; off: number } {
  const angles = holes.map((h, i) => angleOf(centre, h.at) - (i * TAU) / 4);
  // Going round the other way the quarter turns count down.
  const back = holes.map((h, i) => angleOf(centre, h.at) + (i * TAU) / 4);
  const way = spread(angles) <= spread(back) ? 1 : -1;
  const turn = mean(way > 0 ? angles : back);
  let worst = { hole: holes[0], off: 0 };
  holes.forEach((hole, i) => {
    const a = turn + (way * i * TAU) / 4;
    const r = (across[i % 2] as number) / 2;
    const off = distance(hole.at, { x: centre.x + r * cos(a), y: centre.y + r * sin(a) });
    if (off > worst.off) worst = { hole, off };
  });
  return worst;
}

/** Of angles that should be equal, against the first. */
function spread(angles: readonly number[]): number {
  return Math.max(...angles.map((a) => Math.abs(folded(a - (angles[0] as number)))));
}

function mean(angles: readonly number[]): number {
  const first = angles[0] as number;
  return first + angles.reduce((sum, a) => sum + folded(a - first), 0) / angles.length;
}

function folded(angle: number): number {
  return angle - TAU * Math.round(angle / TAU);
}
