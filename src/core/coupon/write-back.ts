/**
 * What a coupon found, written into the cutter in the job's file and into the machine's profile, with its date. What
 * stood there before is kept in the list of coupons, so that nothing measured is ever lost.
 */
import type { Cutter } from "../cutting/cutter.ts";
import { withKey } from "../job/source/edit.ts";
import type { Path } from "../job/source/yaml-source.ts";
import type { Machine } from "../machine/machine.ts";
import type { CouponFound } from "./found.ts";

/** Digits that a hobby machine and callipers can mean. */
const MM = 3;
const SCALE = 5;

export interface CutterPlace {
  readonly cutter: Cutter;
  /** Its place in the job's list. */
  readonly index: number;
}

/** The job's text with the cutter's measures; undefined where it has no place for them. */
export function withCutterFound(
  text: string,
  { cutter, index }: CutterPlace,
  found: CouponFound,
  date: string,
): string | undefined {
  const measuredDiameter = rounded(found.diameter.value, MM);
  const fit = found.fitOffset;
  const entry = {
    date,
    measuredDiameter,
    plusMinus: rounded(found.diameter.plusMinus, MM),
    ...(fit === undefined
      ? {}
      : { fitOffset: rounded(fit.value, MM), fitPlusMinus: rounded(fit.plusMinus, MM) }),
    ...(cutter.measuredDiameter === undefined ? {} : { before: cutter.measuredDiameter }),
    ...(cutter.fitOffset === undefined ? {} : { fitBefore: cutter.fitOffset }),
  };
  return withKeys(text, ["cutters", index], {
    measuredDiameter,
    ...(fit === undefined ? {} : { fitOffset: entry.fitOffset }),
    coupons: [...(cutter.coupons ?? []), entry],
  });
}

/** The machine's text, at `path` of the job or a file of its own. */
export function withMachineFound(
  text: string,
  path: Path,
  machine: Machine,
  found: CouponFound,
  date: string,
): string | undefined {
  const axes = [found.scaleX, found.scaleY] as const;
  const axisScale = axes.map((a) => rounded(a.value, SCALE));
  const entry = {
    date,
    axisScale,
    plusMinus: axes.map((a) => rounded(a.plusMinus, SCALE)),
    ...(machine.axisScale === undefined ? {} : { before: machine.axisScale }),
  };
  return withKeys(text, path, { axisScale, coupons: [...(machine.coupons ?? []), entry] });
}

function withKeys(
  text: string,
  path: Path,
  values: Readonly<Record<string, unknown>>,
): string | undefined {
  let edited: string | undefined = text;
  for (const [key, value] of Object.entries(values)) {
    if (edited === undefined) return undefined;
    edited = withKey(edited, path, key, value);
  }
  return edited;
}

function rounded(v: number, digits: number): number {
  return Number(v.toFixed(digits));
}
