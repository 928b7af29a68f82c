/**
 * The worst value of a check, and where it was found.
 *
 * A check passes while its worst value does not exceed its limit. Every check is listed whether or not
 * anything came near its limit: a proof that leaves checks out would look the same as one that has none.
 */
import type { Origin } from "../../geometry/shape.ts";
import type { ProofCheck } from "../proof.ts";

export interface Spot {
  readonly at?: readonly [number, number] | undefined;
  readonly sheet?: string | undefined;
  readonly plate?: string | undefined;
  readonly program?: { readonly file: string; readonly line: number } | undefined;
  readonly drawing?: Origin | undefined;
}

export interface Worst {
  readonly code: string;
  readonly unit: string;
  /** True where small values are the bad ones: the check then fails below its limit. */
  readonly least: boolean;
  value: number;
  limit: number;
  /** How far beyond its limit, in the unit; negative while it passes. */
  excess: number;
  spot: Spot | undefined;
}

export function mostOf(code: string, unit: string, limit: number): Worst {
  return {
    code,
    unit,
    least: false,
    value: 0,
    limit,
    excess: Number.NEGATIVE_INFINITY,
    spot: undefined,
  };
}

export function leastOf(code: string, unit: string, limit: number): Worst {
  return {
    code,
    unit,
    least: true,
    value: limit,
    limit,
    excess: Number.NEGATIVE_INFINITY,
    spot: undefined,
  };
}

/** Offers a value; the spot is only made where it is the worst so far. */
export function offer(worst: Worst, value: number, spot: () => Spot, limit = worst.limit): void {
  if (!isWorse(worst, value, limit)) return;
  worst.excess = worst.least ? limit - value : value - limit;
  worst.value = value;
  worst.limit = limit;
  worst.spot = spot();
}

/** Would the value be the worst so far? Asked first where there are many, since a spot costs a closure. */
export function isWorse(worst: Worst, value: number, limit = worst.limit): boolean {
  return (worst.least ? limit - value : value - limit) > worst.excess;
}

export function checkOf(worst: Worst): ProofCheck {
  return {
    code: worst.code,
    passed: !(worst.excess > 0),
    worst: worst.value,
    limit: worst.limit,
    unit: worst.unit,
    ...worst.spot,
  };
}
