/**
 * Near-duplicates: two loops that follow each other all round, or an open chain that follows a loop, further
 * apart than a double and nearer than anything that is meant. They are named with their distance; which one
 * is right only the drawer knows.
 */
import { distanceTo } from "../../../geometry/contour.ts";
import { pointAt } from "../../../geometry/segment.ts";
import type { Box, Contour, Point, Segment } from "../../../geometry/shape.ts";
import { NEAR } from "../../../geometry/tolerance.ts";
import { boxAround } from "./boxes.ts";
import { overlappingPairs } from "./sweep.ts";

export interface NearPair {
  /** The one that stays if the job asks for it: the first drawn. */
  readonly kept: number;
  readonly other: number;
  readonly distance: number;
  readonly at: Point;
}

export function nearLoops(loops: readonly Contour[]): NearPair[] {
  const boxes = loops.map(boxAround);
  const pairs: NearPair[] = [];
  overlappingPairs(boxes, NEAR, (i, j) => {
    if (!boxesAgree(boxes[i] as Box, boxes[j] as Box)) return;
    const one = loops[i] as Contour;
    const other = loops[j] as Contour;
    const far = farthest(other.segments, one, farthest(one.segments, other, undefined));
    if (far !== undefined && far.distance <= NEAR)
      pairs.push({ kept: i, other: j, distance: far.distance, at: far.at });
  });
  return pairs;
}

/** Index of the chains that follow a loop, with the distance. */
export function nearChains(
  chains: readonly (readonly Segment[])[],
  loops: readonly Contour[],
): Map<number, { distance: number; at: Point }> {
  const found = new Map<number, { distance: number; at: Point }>();
  const boxes = loops.map(boxAround);
  chains.forEach((segments, i) => {
    const first = segments[0]?.from;
    if (first === undefined) return;
    loops.forEach((loop, l) => {
      if (found.has(i) || !holds(boxes[l] as Box, first)) return;
      const far = farthest(segments, loop, undefined);
      if (far !== undefined && far.distance <= NEAR) found.set(i, far);
    });
  });
  return found;
}

function holds(b: Box, p: Point): boolean {
  return (
    p.x >= b.min.x - NEAR && p.x <= b.max.x + NEAR && p.y >= b.min.y - NEAR && p.y <= b.max.y + NEAR
  );
}

function boxesAgree(a: Box, b: Box): boolean {
  return [a.min.x - b.min.x, a.min.y - b.min.y, a.max.x - b.max.x, a.max.y - b.max.y].every(
    (d) => Math.abs(d) <= NEAR,
  );
}

interface Far {
  readonly distance: number;
  readonly at: Point;
}

/** The sampled point of the segments that is farthest from the loop; gives up beyond NEAR. */
function farthest(
  segments: readonly Segment[],
  loop: Contour,
  so: Far | undefined,
): Far | undefined {
  let far = so;
  for (const s of segments) {
    for (const t of [0, 0.25, 0.5, 0.75, 1]) {
      if (far !== undefined && far.distance > NEAR) return far;
      const at = pointAt(s, t);
      const distance = distanceTo(loop, at);
      if (far === undefined || distance > far.distance) far = { distance, at };
    }
  }
  return far;
}
