/**
 * How sharply a way of short straight moves bends: a controller without arcs gets chords, and what matters to the
 * edge is the curve that they follow. The edge on the outer side of a bend goes faster than the cutter's middle.
 *
 * A straight move longer than the cutter's radius, or with a corner at an end, is a straight move.
 */
import { atan2 } from "../../geometry/trig.ts";
import type { TraceMove } from "../../program/read/trace.ts";

/** A sharper turn is a corner and no curve, rad. */
const CORNER = Math.PI / 3;

/** Radius of the bend that a straight move is a part of, mm; no bend is without end. */
export function bendOf(
  before: TraceMove | undefined,
  m: TraceMove,
  after: TraceMove | undefined,
  cutterRadius: number,
): number {
  const none = Number.POSITIVE_INFINITY;
  if (m.arc !== undefined || m.kind !== "feed") return none;
  if (before?.kind !== "feed" || after?.kind !== "feed") return none;
  const dx = m.x1 - m.x0;
  const dy = m.y1 - m.y0;
  const square = dx * dx + dy * dy;
  if (square === 0 || square > cutterRadius * cutterRadius) return none;
  const at = turn(endDirection(before), [dx, dy]);
  const to = turn([dx, dy], startDirection(after));
  if (at * to <= 0 || Math.max(Math.abs(at), Math.abs(to)) > CORNER) return none;
  return (2 * Math.sqrt(square)) / Math.abs(at + to);
}

type Way = readonly [number, number];

function turn([ax, ay]: Way, [bx, by]: Way): number {
  return atan2(ax * by - ay * bx, ax * bx + ay * by);
}

function endDirection({ x0, y0, x1, y1, arc }: TraceMove): Way {
  if (arc === undefined) return [x1 - x0, y1 - y0];
  return arc.sweep > 0 ? [arc.cy - y1, x1 - arc.cx] : [y1 - arc.cy, arc.cx - x1];
}

function startDirection({ x0, y0, x1, y1, arc }: TraceMove): Way {
  if (arc === undefined) return [x1 - x0, y1 - y0];
  return arc.sweep > 0 ? [arc.cy - y0, x0 - arc.cx] : [y0 - arc.cy, arc.cx - x0];
}
