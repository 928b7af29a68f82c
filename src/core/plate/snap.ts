/**
 * Contours on the coordinate grid, in as few segments as they have: vertices snapped to GRID, arcs refitted to
 * their snapped ends, lines that go straight on and arcs that go on round one circle merged.
 */

import { withEnds } from "../drawing/mend/ends.ts";
import { closeUp, isCircle, oriented } from "../geometry/contour.ts";
import { circle, distance, isFullCircle, lengthOf } from "../geometry/segment.ts";
import type { Arc, Contour, Line, Point, Segment } from "../geometry/shape.ts";
import { GRID } from "../geometry/tolerance.ts";
import { TAU } from "../geometry/trig.ts";

export function snap(v: number): number {
  const n = Math.round(v / GRID);
  // Division by 10 000 rounds better than multiplication by 0.0001; + 0 keeps −0 out.
  return n / Math.round(1 / GRID) + 0;
}

export function snapPoint(p: Point): Point {
  return { x: snap(p.x), y: snap(p.y) };
}

/** Counter-clockwise where `ccw`, snapped and merged; undefined where nothing is left. */
export function tidyContour(contour: Contour, ccw: boolean): Contour | undefined {
  const snapped = snapped1(merged(contour.segments));
  if (snapped.length === 0) return undefined;
  const c = { segments: closeUp(snapped) };
  if (!isCircle(c) && c.segments.length < 2) return undefined;
  // A bow tie has no area and yet is an outline, though one that is refused elsewhere.
  return oriented(c, ccw);
}

function snapped1(segments: readonly Segment[]): Segment[] {
  const only = segments[0];
  if (segments.length === 1 && only !== undefined && isFullCircle(only)) {
    return [circle(snapPoint(only.centre), only.radius, only.sweep > 0, 0, only.origin)];
  }
  const out: Segment[] = [];
  for (const s of segments) {
    const from = snapPoint(s.from);
    const to = snapPoint(s.to);
    // A full turn among others (a loop in a loop) has no chord, and keeps its own place.
    if (from.x === to.x && from.y === to.y) {
      if (isFullCircle(s)) out.push(withEnds(s, from, from));
    } else {
      out.push(withEnds(s, from, to));
    }
  }
  return out;
}

/** Vertices that lie this near a straight line are on it: half the grid, so that none is lost by snapping. */
const STRAIGHT = GRID / 2;
/** Centres and radii that differ by less are one circle: ends on the grid move a centre by some of it. */
const ONE_CIRCLE = 5 * GRID;

export function merged(segments: readonly Segment[]): readonly Segment[] {
  const out: Segment[] = [];
  for (const s of segments) {
    const last = out[out.length - 1];
    const joined = last === undefined ? undefined : join(last, s);
    if (joined === undefined) out.push(s);
    else out[out.length - 1] = joined;
  }
  // The seam: the last may go on into the first.
  while (out.length > 1) {
    const joined = join(out[out.length - 1] as Segment, out[0] as Segment);
    if (joined === undefined) break;
    out.pop();
    out[0] = joined;
  }
  return out;
}

function join(a: Segment, b: Segment): Segment | undefined {
  if (a.kind === "line") return b.kind === "line" ? joinLines(a, b) : undefined;
  return b.kind === "arc" ? joinArcs(a, b) : undefined;
}

function joinLines(a: Line, b: Line): Segment | undefined {
  const dx = b.to.x - a.from.x;
  const dy = b.to.y - a.from.y;
  const d = Math.sqrt(dx * dx + dy * dy);
  if (d < GRID || d < lengthOf(a) || d < lengthOf(b)) return undefined;
  const off = Math.abs((a.to.x - a.from.x) * dy - (a.to.y - a.from.y) * dx) / d;
  return off > STRAIGHT ? undefined : { ...a, to: b.to };
}

function joinArcs(a: Arc, b: Arc): Segment | undefined {
  if (a.sweep > 0 !== b.sweep > 0) return undefined;
  if (distance(a.centre, b.centre) > ONE_CIRCLE || Math.abs(a.radius - b.radius) > ONE_CIRCLE)
    return undefined;
  const sweep = a.sweep + b.sweep;
  const slack = (4 * ONE_CIRCLE) / a.radius;
  if (Math.abs(sweep) >= TAU - slack) {
    if (Math.abs(sweep) > TAU + slack || distance(a.from, b.to) > ONE_CIRCLE) return undefined;
    return circle(middle(a, b), (a.radius + b.radius) / 2, sweep > 0, 0, a.origin);
  }
  return withEnds({ ...a, sweep }, a.from, b.to);
}

/** The longer arc knows its centre better. */
function middle(a: Arc, b: Arc): Point {
  const w = Math.abs(a.sweep) / (Math.abs(a.sweep) + Math.abs(b.sweep));
  return {
    x: a.centre.x * w + b.centre.x * (1 - w),
    y: a.centre.y * w + b.centre.y * (1 - w),
  };
}
