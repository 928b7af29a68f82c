/**
 * Regions as sets: union, intersection, difference, and which ring lies in which.
 *
 * Set results are polygons: arcs become chords within `facet`, so they serve for measuring and for
 * pictures, never for a path that is cut. Rings have material on the left: outers counter-clockwise,
 * holes clockwise; a point is in the region where the rings wind round it more often than not at all.
 * Cost: O((n + k) log n) in facets n and crossings k.
 */
import {
  type ClipKind,
  clipUnits,
  fromUnits,
  toUnits,
  type UnitFrame,
  type UnitPath,
  unitFrame,
} from "./clipper/clipper.ts";
import { bounds, boundsOfAll, contains, flatten, polygon, signedArea } from "./contour.ts";
import { distance, isFullCircle, nearestOn, pointAt } from "./segment.ts";
import type { Box, Contour, Point } from "./shape.ts";
import { FACET, WELD } from "./tolerance.ts";

export function union(a: readonly Contour[], b: readonly Contour[], facet?: number): Contour[] {
  return clip("union", a, b, facet);
}

export function intersect(a: readonly Contour[], b: readonly Contour[], facet?: number): Contour[] {
  return clip("intersect", a, b, facet);
}

/** What of a is not in b. */
export function difference(
  a: readonly Contour[],
  b: readonly Contour[],
  facet?: number,
): Contour[] {
  return clip("difference", a, b, facet);
}

/** Area of a region given by its rings, mm²: outers count up, holes down. */
export function areaOf(rings: readonly Contour[]): number {
  let sum = 0;
  for (const ring of rings) sum += signedArea(ring);
  return sum;
}

function clip(
  kind: ClipKind,
  a: readonly Contour[],
  b: readonly Contour[],
  facet: number = FACET,
): Contour[] {
  const box = boundsOfAll([...a, ...b]);
  if (!Number.isFinite(box.min.x + box.max.x + box.min.y + box.max.y)) return [];
  const frame = unitFrame(box, 0);
  const result = clipUnits(kind, pathsOf(a, frame, facet), pathsOf(b, frame, facet));
  return result.map((path) => polygon(path.map((p) => fromUnits(p, frame))));
}

function pathsOf(rings: readonly Contour[], frame: UnitFrame, facet: number): UnitPath[] {
  return rings.map((ring) => flatten(ring, facet).map((p) => toUnits(p, frame)));
}

export interface Nesting {
  /** How many other rings lie round this one. */
  readonly depth: number;
  /** The innermost of them, by its place in the list; −1 for none. */
  readonly parent: number;
}

/**
 * For each ring, the rings that lie round it, whatever their directions. Rings may touch but not cross.
 * A ring is judged by a point of it that is not on the other ring, so that touching rings are told
 * apart; of two equal rings the earlier counts as the outer. Cost: O(n log n) and, for every pair whose
 * boxes nest, O(segments).
 */
export function ringsNested(contours: readonly Contour[]): Nesting[] {
  const boxes = contours.map(bounds);
  const areas = contours.map((c) => Math.abs(signedArea(c)));
  // From large to small: whatever lies round a ring comes before it.
  const order = contours.map((_, i) => i).sort((i, j) => num(areas, j) - num(areas, i) || i - j);
  const nesting: Nesting[] = contours.map(() => ({ depth: 0, parent: -1 }));
  const byLeft: number[] = [];
  for (const i of order) {
    const box = boxes[i] as Box;
    let depth = 0;
    let parent = -1;
    for (const j of byLeft) {
      const other = boxes[j] as Box;
      if (other.min.x > box.min.x + WELD) break;
      if (!boxIn(box, other) || !ringIn(contours[i] as Contour, contours[j] as Contour)) continue;
      depth++;
      if (parent < 0 || isSmaller(areas, order, j, parent)) parent = j;
    }
    nesting[i] = { depth, parent };
    insertByLeft(byLeft, i, boxes);
  }
  return nesting;
}

const num = (list: readonly number[], i: number): number => list[i] as number;

function isSmaller(
  areas: readonly number[],
  order: readonly number[],
  j: number,
  than: number,
): boolean {
  const by = num(areas, j) - num(areas, than);
  return by === 0 ? order.indexOf(j) > order.indexOf(than) : by < 0;
}

function insertByLeft(sorted: number[], i: number, boxes: readonly Box[]): void {
  const left = (k: number): number => (boxes[sorted[k] as number] as Box).min.x;
  const x = (boxes[i] as Box).min.x;
  let lo = 0;
  let hi = sorted.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (left(mid) <= x) lo = mid + 1;
    else hi = mid;
  }
  sorted.splice(lo, 0, i);
}

function boxIn(a: Box, b: Box): boolean {
  return (
    a.min.x >= b.min.x - WELD &&
    a.min.y >= b.min.y - WELD &&
    a.max.x <= b.max.x + WELD &&
    a.max.y <= b.max.y + WELD
  );
}

/** Is the ring within the other, which is no smaller? */
function ringIn(ring: Contour, other: Contour): boolean {
  for (const s of ring.segments) {
    for (const t of isFullCircle(s) ? [0, 0.5, 0.25, 0.75] : [0, 0.5]) {
      const p = pointAt(s, t);
      if (isClear(other, p)) return contains(other, p);
    }
  }
  // All of it lies on the other: the same ring.
  return true;
}

function isClear(ring: Contour, p: Point): boolean {
  return ring.segments.every((s) => {
    if (distance(s.from, p) <= NEAR_RING) return false;
    return nearestOn(s, p).distance > NEAR_RING;
  });
}

/** A point this near another ring does not tell which side it is on: the drawing's grid, ten times over. */
const NEAR_RING = 1e-3;
