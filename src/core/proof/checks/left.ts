/**
 * Nothing left: every contour is reached by the cutter along its whole way and down to its depth, but
 * for its tabs and for inside corners that no round cutter can enter.
 *
 * A stretch of a contour is *open* where the sweep stays more than LEFT away from it. An open stretch is
 * a *corner* where a cutter that touched the contour there would cut the plate somewhere else, and where
 * the contour on both sides of it is reached; it is measured, not refused. Whatever else is open is left.
 *
 * Bound: the ends of open stretches are exact; depths and areas are measured at SAMPLES places along
 * each, whose chords miss less than 0.1 % of a corner's area.
 */
import type { Stretch } from "../removal/coverage.ts";
import { beyondSweep, type Level } from "../removal/level.ts";
import { type RingPoint, ringPoint } from "../removal/ring.ts";
import { type Ring, type Target, wallDistance } from "../target.ts";

/** Material thinner than this is what rounding leaves, mm: the same room as for overcut. */
export const LEFT = 0.01;

/** A touching cutter that would bite this deep elsewhere cannot touch, mm: below LEFT, above rounding. */
const BITE = 0.002;

const SAMPLES = 96;
/** How far out a left-over is measured, mm. */
const FAR = 5;

export interface Leftover {
  /** Furthest from the sweep, mm, and where. */
  readonly mm: number;
  readonly area: number;
  readonly at: RingPoint;
}

/** Can no cutter of this radius touch the ring anywhere along the stretch? */
export function isCorner(
  target: Target,
  ring: Ring,
  stretch: Stretch,
  radius: number,
  z: number,
): boolean {
  if (stretch.to - stretch.from >= ring.length) return false;
  for (let i = 0; i <= SAMPLES; i++) {
    const s = stretch.from + ((stretch.to - stretch.from) * (i + 0.5)) / (SAMPLES + 1);
    const p = ringPoint(ring, s);
    const x = p.x + p.nx * radius;
    const y = p.y + p.ny * radius;
    if (wallDistance(target, x, y, z, radius) >= radius - BITE) return false;
  }
  return true;
}

/** How much stays along a stretch: depth and area between the ring and the sweep. */
export function leftover(ring: Ring, level: Level, stretch: Stretch, radius: number): Leftover {
  // From where the cutter really leaves the contour, not from where the gap passes LEFT.
  const lead = Math.sqrt(2 * radius * LEFT) * 1.1;
  const whole = stretch.to - stretch.from >= ring.length;
  const from = whole ? 0 : stretch.from - lead;
  const to = whole ? ring.length : stretch.to + lead;
  let worst: RingPoint | undefined;
  let mm = 0;
  let twice = 0;
  let before: readonly [RingPoint, number, number] | undefined;
  for (let i = 0; i <= SAMPLES * 2; i++) {
    const p = ringPoint(ring, from + ((to - from) * i) / (SAMPLES * 2));
    const b = beyondSweep(level, p.x, p.y, FAR);
    if (b.distance > mm || worst === undefined) {
      mm = Math.max(0, b.distance);
      worst = p;
    }
    const far = b.distance >= FAR;
    const x = far ? p.x + p.nx * FAR : b.x;
    const y = far ? p.y + p.ny * FAR : b.y;
    if (before !== undefined) twice += quad(before, p, x, y);
    before = [p, x, y];
  }
  return { mm, area: Math.abs(twice) / 2, at: worst as RingPoint };
}

/** Twice the signed area between two neighbouring samples. */
function quad(
  before: readonly [RingPoint, number, number],
  p: RingPoint,
  x: number,
  y: number,
): number {
  const [q, qx, qy] = before;
  return (p.x - qx) * (y - q.y) - (p.y - qy) * (x - q.x);
}
