/**
 * Arcs in the XY plane, from either form of the words (NISTIR 6556, sec. 3.5.3).
 *
 * Centre form: I and J are always increments from the start; end equal to start is a full circle. Ends
 * may differ in radius by 0.002 mm (0.0002 in in an inch program); the arc that is traced has the mean
 * radius, so it misses either end by half of that. Radius form: R > 0 is the arc of up to 180°, R < 0
 * the longer one.
 */
import { atan2, hypot, TAU } from "../../geometry/trig.ts";
import { MM_PER_INCH } from "./state.ts";
import type { TraceArc } from "./trace.ts";

/** NISTIR 6556, sec. 3.5.3.2. */
const RADIUS_MM = 0.002;
const RADIUS_INCH: number = 0.0002 * MM_PER_INCH;

export interface ArcEnds {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly clockwise: boolean;
  readonly inches: boolean;
}

export type ArcResult =
  | { readonly kind: "arc"; readonly arc: TraceArc }
  | { readonly kind: "form"; readonly why: string }
  | {
      readonly kind: "radius";
      readonly start: number;
      readonly end: number;
      readonly limit: number;
    };

const form = (why: string): ArcResult => ({ kind: "form", why });

export function arcByCentre(ends: ArcEnds, i: number, j: number): ArcResult {
  const { x0, y0, x1, y1 } = ends;
  const cx = x0 + i;
  const cy = y0 + j;
  const start = hypot(i, j);
  const end = hypot(x1 - cx, y1 - cy);
  const limit = ends.inches ? RADIUS_INCH : RADIUS_MM;
  if (start === 0 || end === 0) return form("no-radius");
  if (Math.abs(start - end) > limit) return { kind: "radius", start, end, limit };
  return { kind: "arc", arc: sweepBetween(ends, cx, cy, (start + end) / 2) };
}

export function arcByRadius(ends: ArcEnds, r: number): ArcResult {
  const { x0, y0, x1, y1, clockwise } = ends;
  if (r === 0) return form("no-radius");
  const dx = x1 - x0;
  const dy = y1 - y0;
  const chord = hypot(dx, dy);
  if (chord === 0) return form("no-chord");
  const size = Math.abs(r);
  const limit = ends.inches ? RADIUS_INCH : RADIUS_MM;
  if (chord / 2 - size > limit) return form("too-small");
  // Ends a hair too far apart for R are a half circle over the chord.
  const radius = Math.max(size, chord / 2);
  const aside = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  // The centre lies left of the chord for a short counter-clockwise arc.
  const side = (clockwise ? -1 : 1) * (r > 0 ? 1 : -1) * aside;
  const cx = (x0 + x1) / 2 - (dy / chord) * side;
  const cy = (y0 + y1) / 2 + (dx / chord) * side;
  return { kind: "arc", arc: sweepBetween(ends, cx, cy, radius) };
}

function sweepBetween(ends: ArcEnds, cx: number, cy: number, radius: number): TraceArc {
  const ax = ends.x0 - cx;
  const ay = ends.y0 - cy;
  const bx = ends.x1 - cx;
  const by = ends.y1 - cy;
  const turn = atan2(ax * by - ay * bx, ax * bx + ay * by);
  const full = ends.x0 === ends.x1 && ends.y0 === ends.y1;
  if (ends.clockwise) {
    return { cx, cy, radius, sweep: full || turn === 0 ? -TAU : turn > 0 ? turn - TAU : turn };
  }
  return { cx, cy, radius, sweep: full || turn === 0 ? TAU : turn < 0 ? turn + TAU : turn };
}
