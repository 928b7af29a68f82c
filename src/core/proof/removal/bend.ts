/**
 * How sharply a way of short straight moves bends: a controller without arcs gets chords, and what matters to the
 * edge is the curve that they follow. The edge on the outer side of a bend goes faster than the cutter's middle.
 *
 * A straight move longer than the cutter's radius is a straight move. A shorter one belongs to what it bends into most
 * at either end, but for corners and for long moves: so the first chord of an arc has the arc's bend, whatever is before it.
 */
import { atan2 } from "../../geometry/trig.ts";
import type { TraceMove } from "../../program/read/trace.ts";

/** A sharper turn is a corner and no curve, rad. */
const CORNER = Math.PI / 3;
/**
 * On a move so short, in cutter radii, the cutter turns about a place: two or three of them are a whole curve, and one by
 * itself between long moves a corner's rounding. Chords of the tiniest circles turn by 2 rad (`chords` in
 * geometry/contour.ts), and rounding adds to it.
 */
const HARDLY_ON = 0.05;
const CORNER_ON_THE_SPOT = (2 * Math.PI) / 3;

/** Radius of the bend that a straight move is a part of, mm; no bend is without end. */
export function bendOf(
  before: TraceMove | undefined,
  m: TraceMove,
  after: TraceMove | undefined,
  cutterRadius: number,
): number {
  const none = Number.POSITIVE_INFINITY;
  if (m.arc !== undefined || m.kind !== "feed" || !isShort(m, cutterRadius)) return none;
  const way: Way = [m.x1 - m.x0, m.y1 - m.y0];
  const onTheSpot = isShort(m, HARDLY_ON * cutterRadius);
  const corner = onTheSpot ? CORNER_ON_THE_SPOT : CORNER;
  const turnAt = (next: TraceMove, from: Way, to: Way): number => {
    if (next.kind !== "feed" || !(onTheSpot || isShort(next, cutterRadius))) return 0;
    const turn = Math.abs(angle(from, to));
    return turn > corner ? 0 : turn;
  };
  const turn = Math.max(
    before === undefined ? 0 : turnAt(before, endDirection(before), way),
    after === undefined ? 0 : turnAt(after, way, startDirection(after)),
  );
  return turn > 0 ? Math.sqrt(way[0] * way[0] + way[1] * way[1]) / turn : none;
}

/** An arc is as long as it likes: it bends by itself. */
function isShort({ x0, y0, x1, y1, arc }: TraceMove, limit: number): boolean {
  return arc !== undefined || (x1 - x0) ** 2 + (y1 - y0) ** 2 <= limit * limit;
}

type Way = readonly [number, number];

/** 0 where a move only goes up or down. */
function angle([ax, ay]: Way, [bx, by]: Way): number {
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
