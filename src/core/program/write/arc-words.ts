/**
 * Arcs after rounding. Rounding moves ends and centre by half a unit of the last decimal each; the
 * radii to the two ends may then differ, and NISTIR 6556 sec. 3.5.3.2 refuses more than 0.002 mm. The
 * centre is therefore taken from the rounded ends: of the grid points round the exact centre, the one
 * whose radii agree best.
 */

import type { Point } from "../../geometry/shape.ts";
import { ARC_RADIUS } from "../../geometry/tolerance.ts";
import { hypot, power } from "../../geometry/trig.ts";
import { rounded } from "./words.ts";

export interface ArcWords {
  readonly i: number;
  readonly j: number;
  /** How far the radii differ, mm. */
  readonly mismatch: number;
}

/** From and to as rounded; I and J from `from`. Both ends the same: a full circle of the given radius. */
export function arcWords(
  from: Point,
  to: Point,
  centre: Point,
  radius: number,
  decimals: number,
): ArcWords {
  const i0 = rounded(centre.x - from.x, decimals);
  const j0 = rounded(centre.y - from.y, decimals);
  const full = from.x === to.x && from.y === to.y;
  let best = candidate(from, to, i0, j0);
  let worst = full ? Math.abs(hypot(i0, j0) - radius) : best.mismatch;
  // A circle has no end to miss, but a helix repeats its radius every turn: there the radius is what counts.
  if (!full && worst < ARC_RADIUS / 4) return best;
  const unit = power(10, -decimals);
  for (const di of [-1, 0, 1]) {
    for (const dj of [-1, 0, 1]) {
      const i = rounded(i0 + di * unit, decimals);
      const j = rounded(j0 + dj * unit, decimals);
      const next = candidate(from, to, i, j);
      const miss = full ? Math.abs(hypot(i, j) - radius) : next.mismatch;
      if (miss < worst - 1e-12) {
        worst = miss;
        best = next;
      }
    }
  }
  return best;
}

function candidate(from: Point, to: Point, i: number, j: number): ArcWords {
  const start = hypot(i, j);
  const end = hypot(to.x - from.x - i, to.y - from.y - j);
  return { i, j, mismatch: Math.abs(start - end) };
}
