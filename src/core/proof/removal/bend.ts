/**
 * How sharply a way of short straight moves bends: a controller without arcs gets chords, and what matters to the
 * edge is the curve that they follow. The edge on the outer side of a bend goes faster than the cutter's middle.
 *
 * A straight move longer than the cutter's radius is a straight move, and so is one with a corner at both ends. With a
 * corner at one end it is the first or last chord of what it meets at the other.
 */
import { atan2 } from "../../geometry/trig.ts";
import type { TraceMove } from "../../program/read/trace.ts";

/** A sharper turn is a corner and no curve, rad. */
const CORNER = Math.PI / 3;
/**
 * On moves so short, in cutter radii, the cutter turns about a place: two or three of them, all one way, are a whole
 * curve. Chords of the tiniest circles turn by 2 rad (`chords` in geometry/contour.ts), and rounding adds to it.
 */
const HARDLY_ON = 0.1;
const CORNER_ON_THE_SPOT = (2 * Math.PI) / 3;

/** Radius of the bend that a straight move is a part of, mm; no bend is without end. */
export function bendOf(
  before: TraceMove | undefined,
  m: TraceMove,
  after: TraceMove | undefined,
  cutterRadius: number,
): number {
  const none = Number.POSITIVE_INFINITY;
  if (m.arc !== undefined || m.kind !== "feed") return none;
  const dx = m.x1 - m.x0;
  const dy = m.y1 - m.y0;
  const square = dx * dx + dy * dy;
  if (square === 0 || square > cutterRadius * cutterRadius) return none;
  const length = Math.sqrt(square);
  const start = before?.kind === "feed" ? angle(endDirection(before), [dx, dy]) : undefined;
  const end = after?.kind === "feed" ? angle([dx, dy], startDirection(after)) : undefined;
  const onTheSpot = length < HARDLY_ON * cutterRadius && (start ?? 0) * (end ?? 0) > 0;
  const corner = onTheSpot ? CORNER_ON_THE_SPOT : CORNER;
  const at = isCorner(start, corner) ? undefined : start;
  const to = isCorner(end, corner) ? undefined : end;
  if (at !== undefined && to !== undefined) {
    return at * to > 0 ? (2 * length) / Math.abs(at + to) : none;
  }
  const other = at === undefined ? after : before;
  const one = at ?? to;
  const joins =
    one !== undefined && one !== 0 && other !== undefined && isShort(other, cutterRadius);
  return joins ? length / Math.abs(one) : none;
}

function isShort({ x0, y0, x1, y1, arc }: TraceMove, cutterRadius: number): boolean {
  return arc !== undefined || (x1 - x0) ** 2 + (y1 - y0) ** 2 <= cutterRadius * cutterRadius;
}

type Way = readonly [number, number];

/** Undefined where a move only goes up or down. */
function angle([ax, ay]: Way, [bx, by]: Way): number | undefined {
  const cross = ax * by - ay * bx;
  const dot = ax * bx + ay * by;
  return cross === 0 && dot === 0 ? undefined : atan2(cross, dot);
}

function isCorner(turn: number | undefined, from: number): boolean {
  return turn === undefined || Math.abs(turn) > from;
}

function endDirection({ x0, y0, x1, y1, arc }: TraceMove): Way {
  if (arc === undefined) return [x1 - x0, y1 - y0];
  return arc.sweep > 0 ? [arc.cy - y1, x1 - arc.cx] : [y1 - arc.cy, arc.cx - x1];
}

function startDirection({ x0, y0, x1, y1, arc }: TraceMove): Way {
  if (arc === undefined) return [x1 - x0, y1 - y0];
  return arc.sweep > 0 ? [arc.cy - y0, x0 - arc.cx] : [y0 - arc.cy, arc.cx - x0];
}
