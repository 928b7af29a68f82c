/**
 * The largest cutter that makes an opening or an outline whole, by bisection on the same test that chooses
 * cutters. Cost: some 14 pairs of offsets, so only for what no cutter of the job makes.
 */
import type { Contour } from "../../geometry/shape.ts";
import type { Feature } from "../../plate/plate.ts";
import { fitOf, type Wall, wallOf } from "../../toolpath/choose/fit.ts";

/** A helix wants this much more hole than cutter; common practice, no source (as in toolpath). */
const HELIX_ROOM = 1.1;
/** Steps that cutters are sold in, mm. */
const STEP = 0.05;

/** Downwards to the next twentieth; 0 where nothing of 0.1 mm or more goes in. */
export function widestFor(feature: Feature): number {
  if (feature.kind === "hole" && feature.depth === undefined) {
    return down((feature.diameter ?? 0) / HELIX_ROOM);
  }
  if (feature.kind === "slot") return down(feature.width ?? 0);
  return widestRound(feature.contour, "inside");
}

export function widestRound(contour: Contour, side: Wall["side"]): number {
  const wall = wallOf(contour, side);
  let low = 0;
  let high = 12.5;
  if (fitOf(wall, high).whole) return 2 * high;
  while (high - low > STEP / 8) {
    const radius = (low + high) / 2;
    if (fitOf(wall, radius).whole) low = radius;
    else high = radius;
  }
  return down(2 * low + STEP / 8);
}

function down(diameter: number): number {
  return Math.max(0, Math.floor(diameter / STEP + 1e-9) * STEP);
}
