/** What bounds the depth of a pass: chart, flutes, bending, stress, spindle. All mm. */
import type { Machine } from "../machine/machine.ts";
import type { Cutter } from "./cutter.ts";
import type { Load } from "./physics/load.ts";
import { CARBIDE_WORKING_STRESS, DEFLECTION_WANTED } from "./physics/strength.ts";
import { round } from "./rates-input.ts";

/** A limit's name, as it stands in `limitedBy`, and the depth that it allows. */
export type DepthLimit = readonly [name: string, depth: number];

/**
 * Share of the chart's deepest pass at which to start. The chart says that its depths are maxima, and hobby
 * routers are softer than the machines that charts are made for: common practice, makers take 0.2–0.5 D.
 */
export const START: number = 0.5;

/** Shallower passes than this are all rubbing at the corner of the edge, mm. */
export const SHALLOWEST: number = 0.05;

/** Share of a spindle's rated power that reaches the cut (efficiency of Mitsubishi's worked example). */
const EFFICIENCY = 0.8;

/** W; undefined where the machine does not say. */
export function usablePower(machine: Machine): number | undefined {
  return machine.spindle.powerW > 0 ? EFFICIENCY * machine.spindle.powerW : undefined;
}

/** Rated power of a spindle that gives so much at the cutter, W. */
export function ratedFor(power: number): number {
  return Math.ceil(power / EFFICIENCY);
}

/** `perMm` is the load of a pass of 1 mm: power, deflection and stress are proportional to depth. */
export function depthLimits(
  cutter: Cutter,
  machine: Machine,
  charted: number,
  perMm: Load,
): readonly DepthLimit[] {
  const limits: DepthLimit[] = [
    ["table", charted],
    ["flute length", cutter.fluteLength],
    ["deflection", DEFLECTION_WANTED / perMm.deflectionMm],
    ["cutter stress", CARBIDE_WORKING_STRESS / perMm.stress],
  ];
  const power = usablePower(machine);
  if (power !== undefined) limits.push(["spindle power", power / perMm.powerW]);
  return limits;
}

export function tightest(limits: readonly DepthLimit[]): DepthLimit {
  return limits.reduce((a, b) => (b[1] < a[1] ? b : a));
}

/** As a step shows them. */
export function limitsText(limits: readonly DepthLimit[]): string {
  return limits.map(([name, depth]) => `${name} ${round(depth, 3)}`).join(", ");
}

/** Downwards to 0.01 mm, never below the shallowest pass that cuts. */
export function settable(depth: number): number {
  return Math.max(SHALLOWEST, Math.floor(depth * 100 + 1e-9) / 100);
}
