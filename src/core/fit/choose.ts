/**
 * Which relief takes least from the load path: of the ways that can be cut, along the longer wall while the webs that
 * it leaves are as thick as the sheet asks, for it neither widens a slot nor weakens a tenon; else the way that
 * leaves the thickest web.
 */
import { closestOf } from "../check/shape/gaps.ts";
import { type Cutter, effectiveDiameter } from "../cutting/cutter.ts";
import type { Contour } from "../geometry/shape.ts";
import type { Plate } from "../plate/plate.ts";
import type { FitInput } from "./mate.ts";

/** A relief this much larger than the cutter's radius keeps it from dwelling in the corner: 1.05–1.1 ×. */
const ROOMY = 1.05;

/** The cutter that a relief is made for: the smallest that goes round. */
export function smallestRouter(cutters: readonly Cutter[]): Cutter | undefined {
  return cutters
    .filter((c) => c.kind !== "drill")
    .sort((a, b) => effectiveDiameter(a) - effectiveDiameter(b))[0];
}

/** The cutter that a slot of this width goes to: the largest that goes in. */
export function cutterFor(cutters: readonly Cutter[], width: number): Cutter | undefined {
  return cutters
    .filter((c) => c.kind !== "drill" && effectiveDiameter(c) <= width + 1e-3)
    .sort((a, b) => effectiveDiameter(b) - effectiveDiameter(a))[0];
}

/** Roughing, a stock further from the wall, goes in as well: else finishing would meet the whole depth there. */
export function reliefRadius(cutter: Cutter, { finishStock = 0 }: FitInput): number {
  return ROOMY * (effectiveDiameter(cutter) / 2 + finishStock);
}

/** Thickest web worth telling apart, mm. */
const FAR = 20;

/** The thinnest web round a changed opening, to all others and to the outline. */
export function webRound(plate: Plate, contour: Contour, but: number): number {
  const others = plate.features.filter((f) => f.id !== but && f.depth === undefined);
  const all = [plate.outer, ...others.map((f) => f.contour)].flatMap((c) => c.segments);
  return closestOf(contour.segments, all, FAR)?.distance ?? FAR;
}

/** The thinnest web between a changed outline's new parts and the openings. */
export function webAlong(plate: Plate, outer: Contour): number {
  const openings = plate.features.filter((f) => f.depth === undefined);
  const all = openings.flatMap((f) => f.contour.segments);
  return closestOf(outer.segments, all, FAR)?.distance ?? FAR;
}

/** The first that leaves enough, else the one that leaves most. */
export function leastTaken<T>(
  ways: readonly { readonly made: T; readonly web: number }[],
  enough: number,
): T | undefined {
  const good = ways.find((w) => w.web >= enough - 1e-6);
  if (good !== undefined) return good.made;
  return [...ways].sort((a, b) => b.web - a.web)[0]?.made;
}
