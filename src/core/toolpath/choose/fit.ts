/**
 * Can this cutter make this wall, and what does it leave?
 *
 * A wall is a closed contour with the cutter inside it (holes, slots, windows) or outside it
 * (outlines). A cutter makes it whole when its centre can go round in one ring and nothing stays but
 * what no round cutter can reach: the tips of sharp inside corners. Whether that holds is decided by
 * exact areas: opening (inside) or closing (outside) the contour by the cutter's radius leaves an
 * area; sharp corners account for r²(tan φ/2 − φ/2) each, φ the change of direction.
 */

import { isConvex, oriented, signedArea, turnBetween } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { remembering } from "../../geometry/remember.ts";
import type { Contour, Segment } from "../../geometry/shape.ts";
import { cos, tan } from "../../geometry/trig.ts";

export interface Wall {
  /** Counter-clockwise. */
  readonly ring: Contour;
  readonly side: "inside" | "outside";
}

const walls = remembering<Contour, Wall>();

/** Asked again, the same object: what is known of a wall is known by it. */
export function wallOf(contour: Contour, side: Wall["side"]): Wall {
  return walls(contour, side, () => ({ ring: oriented(contour, true), side }));
}

export interface Fit {
  /** False where the cutter does not go in. */
  readonly enters: boolean;
  readonly whole: boolean;
  /** True where the cutter's way falls apart or shuts a pocket off: there is a neck that it cannot pass. */
  readonly split: boolean;
  /** All that stays, mm², and how much of it is tips of sharp corners. */
  readonly leftMm2: number;
  readonly cornersMm2: number;
  /** From the sharpest corner's tip to the cutter, mm. */
  readonly cornerMm: number;
}

/** Areas of one plate feature agree to about this; anything a cutter really leaves is larger, mm². */
const AREA_NOISE = 2e-3;

const known = remembering<Wall, Fit>();

/** Cost: two offsets, the first time that this is asked of this wall; none where its curves alone say it. */
export function fitOf(wall: Wall, radius: number): Fit {
  return known(wall, radius, () => (rollsRound(wall, radius) ? ROLLS : fitted(wall, radius)));
}

const ROLLS: Fit = {
  enters: true,
  whole: true,
  split: false,
  leftMm2: 0,
  cornersMm2: 0,
  cornerMm: 0,
};

/** Arcs wider than the cutter by this are clear of what an offset's rounding could make of them, mm. */
const CLEARLY = 0.01;

/**
 * A cutter goes round outside of whatever bends in nowhere, and inside of it where it also bends nowhere more sharply
 * than the cutter does (Blaschke's rolling theorem, Kreis und Kugel, 1916, § 24; from memory).
 */
function rollsRound({ ring, side }: Wall, radius: number): boolean {
  if (!isConvex(ring, STRAIGHT)) return false;
  const { segments } = ring;
  return (
    side === "outside" ||
    segments.every((s, i) => {
      if (s.kind === "arc" && s.radius < radius + CLEARLY) return false;
      const next = segments[(i + 1) % segments.length] as Segment;
      return next === s || turnBetween(s, next) < STRAIGHT;
    })
  );
}

function fitted(wall: Wall, radius: number): Fit {
  const inside = wall.side === "inside";
  const grown = offsetRings([wall.ring], inside ? -radius : radius);
  const rings = grown.filter((c) => signedArea(c) > 0);
  const pockets = grown.length - rings.length;
  const corners = sharpCorners(wall, radius);
  const own = signedArea(wall.ring);
  if (rings.length === 0) {
    return {
      enters: false,
      whole: false,
      split: false,
      leftMm2: own,
      cornersMm2: corners.area,
      cornerMm: corners.reach,
    };
  }
  const back = offsetRings(rings, inside ? radius : -radius);
  const swept = back.reduce((sum, c) => sum + signedArea(c), 0);
  const leftMm2 = Math.max(0, inside ? own - swept : swept - own);
  const noise = AREA_NOISE + own * 1e-7;
  // More than tight curves can account for: a bay or neck that the cutter does not enter.
  const split = rings.length > 1 || pockets > 0 || leftMm2 > corners.area + corners.tight + noise;
  const whole = !split && leftMm2 <= corners.area + noise;
  return {
    enters: true,
    whole,
    split,
    leftMm2,
    cornersMm2: corners.area,
    cornerMm: corners.reach,
  };
}

/** Changes of direction below this are drawing noise, rad. */
const STRAIGHT = 1e-3;

/** Arcs that turn back by more than this are the end of a bay, not a fillet, rad. */
const BAY = 0.9 * Math.PI;

interface Corners {
  /** Tips of sharp corners, mm², and the furthest of them from the cutter, mm. */
  readonly area: number;
  readonly reach: number;
  /** The most that fillets tighter than the cutter can leave, mm². */
  readonly tight: number;
}

function sharpCorners({ ring, side }: Wall, radius: number): Corners {
  const inwards = side === "inside" ? 1 : -1;
  let area = 0;
  let reach = 0;
  let tight = 0;
  const { segments } = ring;
  for (const [i, s] of segments.entries()) {
    const next = segments[(i + 1) % segments.length] as Segment;
    const phi = segments.length === 1 ? 0 : inwards * turnBetween(s, next);
    if (phi > STRAIGHT && phi < Math.PI - STRAIGHT) {
      area += radius * radius * (tan(phi / 2) - phi / 2);
      reach = Math.max(reach, radius * (1 / cos(phi / 2) - 1));
    }
    if (s.kind === "arc" && s.radius < radius) {
      const sweep = inwards * s.sweep;
      if (sweep > 0 && sweep < BAY) tight += radius * radius * (tan(sweep / 2) - sweep / 2);
    }
  }
  return { area, reach, tight };
}
