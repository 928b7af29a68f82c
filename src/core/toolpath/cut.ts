/**
 * Cuts: what the cutter's centre does, before any controller's dialect.
 *
 * Frame: the sheet's in X and Y; Z is 0 at the sheet's top and negative in the material. mm, mm/min.
 * A cut begins with the cutter above `start` at its link's height and ends anywhere; the writer rises
 * to the next one's before anything else moves in X or Y.
 */
import type { Cutter, Rates, TrialMaterial } from "../cutting/cutter.ts";
import type { Finding } from "../finding/finding.ts";
import { distance, placing } from "../geometry/segment.ts";
import type { Origin, Point, Rigid } from "../geometry/shape.ts";
import { hypot } from "../geometry/trig.ts";
import type { Sheet } from "../layout/layout.ts";

/** `placeCut` gives each all its fields in this order, also those that are undefined: every room reads them. */
export interface CutMove {
  readonly to: Point;
  readonly z: number;
  /** Present for arcs and helices in the XY plane; sweep signed, rad, counter-clockwise positive. */
  readonly arc?: { readonly centre: Point; readonly sweep: number } | undefined;
  readonly feed: number;
  readonly origin?: Origin | undefined;
}

export interface Cut {
  /** For the comment in the program: `hole 3.2`, `window`, `outline`. */
  readonly label: string;
  readonly start: Point;
  /**
   * Height of the way to `start` from the end of the cut before, above the sheet's top; absent: clearance, as always at
   * the beginning of a program.
   */
  readonly linkZ?: number | undefined;
  /** Down to here at rapid: just above the sheet's top. */
  readonly startZ: number;
  readonly moves: readonly CutMove[];
}

/** The same cut in another frame; not flipped, since the cutter would go round the other way. */
export function placeCut(cut: Cut, toSheet: Rigid): Cut {
  const place = placing(toSheet);
  const moves = cut.moves.map(
    ({ to, z, arc, feed, origin }): CutMove => ({
      to: place(to),
      z,
      arc: arc === undefined ? undefined : { centre: place(arc.centre), sweep: arc.sweep },
      feed,
      origin,
    }),
  );
  return { ...cut, start: place(cut.start), moves };
}

/** The same made in several ways, the usual one first: each the cuts in a row. */
export type Ways = readonly (readonly Cut[])[];

/** Of a move in X and Y, mm. */
export function levelLength(from: Point, { to, arc }: CutMove): number {
  return arc === undefined ? distance(from, to) : Math.abs(arc.sweep) * distance(arc.centre, to);
}

/** Of all moves at feed, mm. */
export function feedLength({ start, startZ, moves }: Cut): number {
  let at = start;
  let z = startZ;
  let sum = 0;
  for (const m of moves) {
    sum += hypot(levelLength(at, m), m.z - z);
    at = m.to;
    z = m.z;
  }
  return sum;
}

/** What one plate gets from one cutter in a row: all of it, where plates are cut one by one. */
export interface PlateBlock {
  readonly plate: string;
  readonly copy: number;
  readonly cuts: readonly Cut[];
}

/** One program: a sheet and a cutter. */
export interface CutProgram {
  readonly sheet: Sheet;
  readonly cutter: Cutter;
  readonly rates: Rates;
  /** What it is fed for instead of the sheet's own material, to try it. */
  readonly trial?: TrialMaterial | undefined;
  readonly blocks: readonly PlateBlock[];
}

/** A bridge that stays between a plate (or a slug) and what is round it. Sheet frame. */
export interface Tab {
  readonly sheet: string;
  readonly plate: string;
  readonly copy: number;
  /** Absent for the plate's outline; else the window whose slug it holds. */
  readonly feature?: number | undefined;
  /** On the contour of the plate, in the middle of the bridge. */
  readonly at: Point;
  /** Along the contour at the tab's top, mm. */
  readonly width: number;
  /** From the sheet's underside, mm. */
  readonly height: number;
}

export interface Routed {
  readonly programs: readonly CutProgram[];
  readonly tabs: readonly Tab[];
  readonly findings: readonly Finding[];
}

/** The plates of some blocks, each once, in the order in which they are begun. */
export function platesOf<T extends { readonly plate: string; readonly copy: number }>(
  blocks: readonly T[],
): { plate: string; copy: number }[] {
  const seen = new Map(blocks.map(({ plate, copy }) => [`${plate} ${copy}`, { plate, copy }]));
  return [...seen.values()];
}

/** How the job wants things cut. mm unless named. */
export interface CuttingOptions {
  readonly tabs: {
    readonly width: number;
    readonly height: number;
    readonly spacing: number;
    readonly least: number;
  };
  /** Below the sheet's underside. */
  readonly throughDepth: number;
  /** Deepest pass in uncut stock; absent: what the rates say. */
  readonly passDepth?: number | undefined;
  readonly finish: { readonly stock: number };
  readonly direction: "climb" | "conventional";
  readonly rampDeg: number;
  /** Height of rapids above the sheet's top. */
  readonly clearance: number;
  /** The same between two cuts with nothing between them that stands up; as high as clearance: never lower. */
  readonly hop: number;
  /** Each plate finished before the next begins, or whatever way through the sheet is shortest. Absent: plate by plate. */
  readonly order?: "plate-by-plate" | "whole-sheet" | undefined;
}
