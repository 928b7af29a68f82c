/**
 * Drawing units: codes, factors, and whether a declared unit can be believed.
 */
import type { LengthUnit, ReadOptions, Units } from "./drawing.ts";

/** mm for one of each. px is 1/96 inch (CSS Values and Units 3, sec. 6.2). */
export const FACTORS: Readonly<Record<LengthUnit, number>> = {
  mm: 1,
  cm: 10,
  dm: 100,
  m: 1000,
  um: 0.001,
  nm: 1e-6,
  in: 25.4,
  ft: 304.8,
  yd: 914.4,
  mil: 0.0254,
  uin: 2.54e-5,
  px: 25.4 / 96,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
};

/**
 * $INSUNITS (DXF reference, HEADER). The survey foot and inch are 2 ppm longer than the foot and inch, which
 * no plate can tell; units for maps and stars are as good as none.
 */
const INSUNITS: Readonly<Record<number, LengthUnit>> = {
  1: "in",
  2: "ft",
  4: "mm",
  5: "cm",
  6: "m",
  8: "uin",
  9: "mil",
  10: "yd",
  12: "nm",
  13: "um",
  14: "dm",
  21: "ft",
  22: "in",
  23: "yd",
};

export function unitOfCode(code: string | undefined): LengthUnit | null {
  return code === undefined ? null : (INSUNITS[Number.parseInt(code, 10)] ?? null);
}

export function chosenUnits(declared: LengthUnit | null, options: ReadOptions): Units {
  const used = options.units ?? declared ?? "mm";
  return {
    declared,
    used,
    factor: FACTORS[used],
    assumed: options.units === undefined && declared === null,
  };
}
