/**
 * Things drawn twice, either way round: loose segments that lie on longer ones, wholly or in part, and loops
 * that lie on other loops. One of each stays.
 *
 * Words: a segment's *carrier* is the whole line or circle that it lies on; *cover* is the stretch of it that
 * a kept segment on the same carrier takes.
 * Cost: a sweep over boxes.
 */
import { distanceTo, perimeter, signedArea } from "../../../geometry/contour.ts";
import { angleOf, distance, lengthOf, part, pointAt, turnTo } from "../../../geometry/segment.ts";
import type { Arc, Box, Contour, Line, Point, Segment } from "../../../geometry/shape.ts";
import { DUPLICATE, SPECK } from "../../../geometry/tolerance.ts";
import { TAU } from "../../../geometry/trig.ts";
import { boxAround, segmentBox } from "./boxes.ts";
import { cellKey, overlappingPairs } from "./sweep.ts";

export interface Loose {
  readonly segment: Segment;
  readonly layer: string;
}

export interface Thinned<T extends Loose> {
  readonly kept: readonly T[];
  /** Wholly covered by others. */
  readonly removed: readonly T[];
  /** The covered parts of what was cut shorter. */
  readonly covered: readonly T[];
  /** Too many things lie over each other to compare them all. */
  readonly gaveUp: boolean;
}

/** Loose segments without what others cover; `covers` cover too, but stay out of the answer. */
export function withoutDoubles<T extends Loose>(
  loose: readonly T[],
  covers: readonly Segment[] = [],
): Thinned<T> {
  const { first, twins } = withoutTwins(loose);
  const thinned = withoutCovered(first, covers);
  return { ...thinned, removed: [...twins, ...thinned.removed] };
}

/** What is drawn twice to the bit needs no search. */
function withoutTwins<T extends Loose>(loose: readonly T[]): { first: T[]; twins: T[] } {
  const seen = new Map<number, Segment[]>();
  const first: T[] = [];
  const twins: T[] = [];
  for (const l of loose) {
    const key = keyOf(l.segment);
    const alike = seen.get(key);
    if (alike?.some((s) => sameSegment(s, l.segment)) === true) {
      twins.push(l);
      continue;
    }
    first.push(l);
    if (alike === undefined) seen.set(key, [l.segment]);
    else alike.push(l.segment);
  }
  return { first, twins };
}

/** The same for both directions; others may share it. */
function keyOf({ from, to }: Segment): number {
  const place = cellKey(Math.round((from.x + to.x) * 1e4), Math.round((from.y + to.y) * 1e4));
  const across = Math.round(Math.abs(from.x - to.x) * 1e4);
  return cellKey(cellKey(place, across), Math.round(Math.abs(from.y - to.y) * 1e4));
}

function sameSegment(a: Segment, b: Segment): boolean {
  const forth = samePoint(a.from, b.from) && samePoint(a.to, b.to);
  if (!forth && !(samePoint(a.from, b.to) && samePoint(a.to, b.from))) return false;
  if (a.kind === "line" || b.kind === "line") return a.kind === b.kind;
  return samePoint(a.centre, b.centre) && a.sweep === (forth ? b.sweep : -b.sweep);
}

function samePoint(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}

function withoutCovered<T extends Loose>(
  loose: readonly T[],
  covers: readonly Segment[],
): Thinned<T> {
  const all = [...covers, ...loose.map((l) => l.segment)];
  const rank = ranks(all, covers.length);
  const rivals: number[][] = all.map(() => []);
  const complete = overlappingPairs(all.map(segmentBox), DUPLICATE, (i, j) => {
    if (i < covers.length && j < covers.length) return;
    if (!sameCarrier(all[i] as Segment, all[j] as Segment)) return;
    const first = (rank[i] as number) < (rank[j] as number);
    rivals[first ? j : i]?.push(first ? i : j);
  });
  const kept: T[] = [];
  const removed: T[] = [];
  const covered: T[] = [];
  loose.forEach((l, k) => {
    const mine = all[k + covers.length] as Segment;
    const others = (rivals[k + covers.length] ?? []).map((i) => all[i] as Segment);
    const parts = underCovers(mine, others);
    if (parts === undefined) kept.push(l);
    else if (parts.left.length === 0) removed.push(l);
    else {
      for (const segment of parts.left) kept.push({ ...l, segment });
      for (const segment of parts.covered) covered.push({ ...l, segment });
    }
  });
  return { kept, removed, covered, gaveUp: !complete };
}

/** Longer before shorter, so that what covers is kept; equal lengths by place, so that order does not matter. */
function ranks(all: readonly Segment[], covers: number): number[] {
  const order = all.map((_, i) => i);
  const length = all.map((s) => Math.round(lengthOf(s) / DUPLICATE));
  order.sort((i, j) => {
    const first = Number(j < covers) - Number(i < covers);
    return first || (length[j] as number) - (length[i] as number) || i - j;
  });
  const rank = new Array<number>(all.length).fill(0);
  order.forEach((i, r) => {
    rank[i] = r;
  });
  return rank;
}

/** Do both lie on one line, or on one circle? */
export function sameCarrier(a: Segment, b: Segment): boolean {
  if (a.kind === "arc" && b.kind === "arc") {
    return distance(a.centre, b.centre) <= DUPLICATE && Math.abs(a.radius - b.radius) <= DUPLICATE;
  }
  if (a.kind === "arc" || b.kind === "arc") return false;
  const [long, short] = lengthOf(a) >= lengthOf(b) ? [a, b] : [b, a];
  return offLine(long, short.from) <= DUPLICATE && offLine(long, short.to) <= DUPLICATE;
}

function offLine(l: Line, p: { x: number; y: number }): number {
  const dx = l.to.x - l.from.x;
  const dy = l.to.y - l.from.y;
  const d = Math.sqrt(dx * dx + dy * dy);
  return d === 0
    ? distance(l.from, p)
    : Math.abs((p.x - l.from.x) * dy - (p.y - l.from.y) * dx) / d;
}

interface Parts {
  readonly left: readonly Segment[];
  readonly covered: readonly Segment[];
}

/** A segment parted by its covers; undefined where it is whole. */
function underCovers(s: Segment, covers: readonly Segment[]): Parts | undefined {
  if (covers.length === 0) return undefined;
  const length = lengthOf(s);
  const taken: [number, number][] = [];
  for (const c of covers) {
    for (const [a, b] of s.kind === "line" ? lineCover(s, c as Line) : arcCover(s, c as Arc)) {
      if ((b - a) * length > DUPLICATE) taken.push([a, b]);
    }
  }
  if (taken.length === 0) return undefined;
  taken.sort((x, y) => x[0] - y[0]);
  const left: Segment[] = [];
  const covered: Segment[] = [];
  let at = 0;
  let since = 0;
  for (const [a, b] of [...taken, [1, 1] as [number, number]]) {
    if ((a - at) * length > DUPLICATE) {
      left.push(part(s, Math.max(0, at), Math.min(1, a)));
      if ((at - since) * length > DUPLICATE) covered.push(part(s, since, at));
      since = a;
    }
    at = Math.max(at, b);
  }
  if ((Math.min(1, at) - since) * length > DUPLICATE) covered.push(part(s, since, Math.min(1, at)));
  return { left, covered };
}

function lineCover(s: Line, c: Line): [number, number][] {
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const d2 = dx * dx + dy * dy;
  const along = (p: { x: number; y: number }): number =>
    ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / d2;
  const a = along(c.from);
  const b = along(c.to);
  return [[Math.max(0, Math.min(a, b)), Math.min(1, Math.max(a, b))]];
}

function arcCover(s: Arc, c: Arc): [number, number][] {
  const sweep = Math.abs(s.sweep);
  const reach = Math.abs(c.sweep);
  if (reach >= TAU - 1e-9) return [[0, 1]];
  // Where the cover begins when it is followed in the segment's own direction.
  const same = s.sweep > 0 === c.sweep > 0;
  const slack = SPECK / s.radius;
  let start = turnTo(s, angleOf(s.centre, same ? c.from : c.to));
  if (start > TAU - slack) start = 0;
  const stretches: [number, number][] = [[start / sweep, Math.min(1, (start + reach) / sweep)]];
  // The cover may come round to the segment's beginning.
  if (start + reach > TAU) stretches.push([0, Math.min(1, (start + reach - TAU) / sweep)]);
  return stretches.filter(([a, b]) => a < 1 && b > a);
}

/** Indices of loops that lie on an earlier one of the list. */
export function doubledLoops(loops: readonly Contour[]): number[] {
  const boxes = loops.map(boxAround);
  const sizes = new Map<number, { area: number; length: number }>();
  const doubled = new Set<number>();
  // Only loops of the same box can be the same loop: compare those that share a rounded corner.
  const byCorner = new Map<number, number[]>();
  boxes.forEach((box, i) => {
    for (const key of cornerKeys(box)) {
      const others = byCorner.get(key);
      if (others === undefined) byCorner.set(key, [i]);
      else others.push(i);
    }
  });
  for (const group of byCorner.values()) {
    const kept: number[] = [];
    for (const i of group) {
      if (doubled.has(i)) continue;
      const twin = kept.find((j) => sameLoop(i, j));
      if (twin === undefined) kept.push(i);
      else doubled.add(Math.max(i, twin));
    }
  }
  return [...doubled].sort((a, b) => a - b);

  function sizeOf(i: number): { area: number; length: number } {
    const loop = loops[i] as Contour;
    const known = sizes.get(i) ?? { area: Math.abs(signedArea(loop)), length: perimeter(loop) };
    sizes.set(i, known);
    return known;
  }

  function sameLoop(i: number, j: number): boolean {
    const a = sizeOf(i);
    const b = sizeOf(j);
    if (Math.abs(a.area - b.area) > DUPLICATE * (a.length + 1)) return false;
    if (!sameBox(boxes[i] as Box, boxes[j] as Box)) return false;
    const one = loops[i] as Contour;
    const other = loops[j] as Contour;
    return liesOn(one, other) && liesOn(other, one);
  }
}

function liesOn(a: Contour, b: Contour): boolean {
  return a.segments.every((s) =>
    [0, 0.31, 0.5, 0.77].every((t) => distanceTo(b, pointAt(s, t)) <= DUPLICATE),
  );
}

function sameBox(a: Box, b: Box): boolean {
  return distance(a.min, b.min) <= 2 * DUPLICATE && distance(a.max, b.max) <= 2 * DUPLICATE;
}

/** Rounded lower-left corners: two grids, half a cell apart, so that a cell's edge parts no twins in both. */
function cornerKeys(b: Box): number[] {
  const cell = 16 * DUPLICATE;
  return [0, cell / 2].map(
    (o) =>
      2 * cellKey(Math.floor((b.min.x + o) / cell), Math.floor((b.min.y + o) / cell)) +
      Number(o > 0),
  );
}
