/**
 * Sizes that follow from names: pads, boards, screws. Where no standard is named it is
 * common practice, no source.
 */
import type { Screw } from "../plate/screw.ts";
import type { AirframeSpec } from "./file/schema.ts";

/** From a screw's middle to the edge, in holes: nothing to remark from 2 on (joint rules, e/D). */
export const EDGE = 2;
/** Under this a pin tears out (e/D 1.5). */
export const LEAST_EDGE = 1.5;

/** Boards stand this far out of their screws' square on each side. */
const BOARD_RIM = 3;

export function boardSide(spec: AirframeSpec): number {
  return spec.stack.board ?? spec.stack.side + 2 * BOARD_RIM;
}

/** The least material beside any opening that a service would still cut; the median of drawings is 2.35. */
export const LEAST_WEB = 1;

/** Lengths that screws are sold in (ISO 4762's preferred ones), mm. */
const LENGTHS = [3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 30, 35, 40, 45, 50, 55, 60, 70, 80];

/** The shortest sold that is at least this long. */
export function screwLength(least: number): number {
  return LENGTHS.find((l) => l >= least - 1e-9) ?? Math.ceil(least / 10) * 10;
}

/** ISO 4032 nut heights, mm. */
const NUTS: Readonly<Record<Screw, number>> = { M2: 1.6, "M2.5": 2, M3: 2.4, M4: 3.2, M5: 4.7 };

export function nutHeight(screw: Screw): number {
  return NUTS[screw];
}
