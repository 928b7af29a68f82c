/**
 * How far a cutter goes: metres of edge cut through plate of 2–3 mm before it wants changing. Several passes
 * round one edge are one edge: the figures come from trimming and from whole plates, not from single passes.
 *
 * Planning values. One study gives a DLC-coated router about 5.9 m, 46 % more than an uncoated one, hence
 * about 4.0 m; makers of CVD-diamond coats claim ten to thirty times. No exponent of speed for carbon
 * laminate was found in print, so none is used.
 */
import type { Coating, Cutter } from "../cutter.ts";
import type { Source } from "./source.ts";

export interface Life {
  readonly metres: number;
  readonly least: number;
  readonly most: number;
  readonly source: Source;
}

const TABLE: Readonly<Record<Coating, Life>> = {
  none: {
    metres: 4,
    least: 3,
    most: 5,
    source: {
      text: "46 % less than a DLC-coated router's 5.9 m in an edge-trimming study (Prakash, Krishnaraj, Sheikh-Ahmad, J. Composite Materials 2019, attribution from memory)",
      tag: "derived",
    },
  },
  dlc: {
    metres: 6,
    least: 4.5,
    most: 7.5,
    source: {
      text: "5.9 m trimmed by a DLC-coated router (Prakash, Krishnaraj, Sheikh-Ahmad, J. Composite Materials 2019, attribution from memory)",
      tag: "abstract",
    },
  },
  diamond: {
    metres: 40,
    least: 20,
    most: 120,
    source: {
      text: "10–30 times uncoated: makers' claims, Engdahl (Crystallume); Kanda et al., Surface & Coatings Tech. 73 (1995) 115–120; the lower end is taken",
      tag: "abstract",
    },
  },
};

/** Sheets that the figures are for, mm. */
export const LIFE_SHEETS: readonly [number, number] = [2, 3];

/**
 * What a metre of edge counts in a sheet of another thickness: in proportion beyond the range, since the same
 * passes are then more or fewer (derived).
 */
export function lifeWeight(thickness: number): number {
  const [thin, thick] = LIFE_SHEETS;
  return thickness < thin ? thickness / thin : Math.max(1, thickness / thick);
}

/** The user's own figure where there is one. */
export function lifeOf(cutter: Cutter): Life {
  const own = cutter.lifeMetres;
  if (own === undefined || !(own > 0)) return TABLE[cutter.coating];
  const source: Source = { text: "lifeMetres of the cutter", tag: "the user's own" };
  return { metres: own, least: own, most: own, source };
}
