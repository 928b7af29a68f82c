/**
 * The band in which a cutter's chip must stay, mm per revolution at the edge (centre feed corrected in
 * bores and on bosses).
 *
 * Least: below about a third of the edge's radius a chip does not form and the edge only rubs. Edge
 * radius by coating, since a coating rounds the edge that it covers. Most: what the chart gives for light
 * cuts, which is the most that an edge is ever fed; at full width a quarter over the chart's slot feed.
 */

import type { Coating, Cutter, RateMaterial } from "./cutter.ts";
import { feedPerRevAt, rowFor, SPEED_BAND, teethOf } from "./data/chip-load.ts";
import type { Source } from "./data/source.ts";

export interface ChipBand {
  /** mm/rev. */
  readonly least: number;
  /** Anywhere, light cuts included. */
  readonly most: number;
  /** At full width. */
  readonly mostAtFullWidth: number;
  readonly leastSource: Source;
  readonly mostSource: Source;
}

/** Radius of a new edge, mm. */
const EDGE_RADIUS: Readonly<Record<Coating, number>> = { none: 0.005, dlc: 0.006, diamond: 0.012 };

/** Thinnest chip over edge radius. */
const LEAST_CHIP = 0.3;

/** Room over the chart's slot feed: the source's own band on speed is ±20 %, and a little for rounding. */
const ROOM = 1 + SPEED_BAND + 0.05;

export function chipBand(cutter: Cutter, material: RateMaterial): ChipBand {
  const radius = cutter.edgeRadius ?? EDGE_RADIUS[cutter.coating];
  const least = LEAST_CHIP * radius * teethOf(cutter);
  const leastSource: Source = {
    text: `edge rubs below ${LEAST_CHIP} of its radius, ${Number((radius * 1000).toFixed(1))} µm ${cutter.edgeRadius === undefined ? "new" : "in the job"}, on ${teethOf(cutter)} teeth`,
    tag: "from memory, 60 % sure",
  };
  if (cutter.kind === "drill") {
    const row = rowFor(cutter, material, "drill");
    const most = feedPerRevAt(row, cutter.diameter).value * ROOM;
    return { least, most, mostAtFullWidth: most, leastSource, mostSource: row.feedSource };
  }
  const slot = feedPerRevAt(rowFor(cutter, material, "slot"), cutter.diameter).value * ROOM;
  const light = rowFor(cutter, material, "light");
  return {
    least,
    most: Math.max(slot, feedPerRevAt(light, cutter.diameter).value),
    mostAtFullWidth: slot,
    leastSource,
    mostSource: light.feedSource,
  };
}
