/**
 * A job: what to cut, from which sheets, with which cutters, on which machine. Read from a job file by
 * `parseJob`, checked and complete: every default is filled in, every name that is referred to exists.
 *
 * Words: a sheet is stock; a plate is a part; a place is a spot in the job file. mm, degrees where named.
 */
import type { Override } from "../check/run.ts";
import type { Fastener, Propellers } from "../check/view.ts";
import type { Cutter } from "../cutting/cutter.ts";
import type { FitName, ReliefWish } from "../fit/fits.ts";
import type { Contour, Point } from "../geometry/shape.ts";
import type { Sheet } from "../layout/layout.ts";
import type { Machine } from "../machine/machine.ts";
import type { CuttingOptions } from "../toolpath/cut.ts";

/** Where in a job file something is said. Counted from 1. */
export interface JobPlace {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface JobOrigin {
  readonly at: "lower-left" | "lower-right" | "upper-left" | "upper-right" | "centre";
  readonly z: "sheet-top" | "spoilboard";
}

/** A sheet's outline: a rectangle from (0, 0), or the one outer contour of a drawing beside the job. */
export type SheetShape =
  | { readonly kind: "size"; readonly width: number; readonly height: number }
  | { readonly kind: "drawing"; readonly file: string };

export interface JobSheet extends Omit<Sheet, "outline"> {
  readonly shape: SheetShape;
  /** A layout by hand, of the first sheet of this kind; a plate's own `place` holds before it. */
  readonly layout?: string | undefined;
  readonly place: JobPlace;
}

export interface RecessLayer {
  readonly layer: string;
  /** Below the sheet's top, mm. */
  readonly depth: number;
}

/** A slot of this plate in which an edge of plate `of` sits. */
export interface Mate {
  /** In or at the slot, plate frame. */
  readonly slot: Point;
  readonly of: string;
  /** In all, not on each side, mm. */
  readonly clearance: number;
  /** The fit that it was named by. */
  readonly fit?: FitName | undefined;
  /** True where the job gives a fit and a clearance. */
  readonly both?: boolean | undefined;
  /** How corners are cut free; absent: chosen. */
  readonly relief?: ReliefWish | undefined;
  readonly place: JobPlace;
}

/** A window whose sharp corners the job wants cut free. */
export interface WindowRelief {
  readonly window: Point;
  readonly way: "along-wall" | "bisector";
  readonly radius?: number | undefined;
}

/** Where the job itself puts a copy, sheet frame: flip, turn, then shift. */
export interface FixedPlace {
  readonly x: number;
  readonly y: number;
  readonly rotationDeg: number;
  readonly flipped: boolean;
}

export interface JobPlate {
  readonly name: string;
  readonly drawing: string;
  /** Overrides what the drawing says. */
  readonly units?: "mm" | "in" | undefined;
  /** Gaps up to this are closed, mm; absent: 0.01. */
  readonly closeGaps?: number | undefined;
  /** Of outlines drawn twice, nearly, the first stays. */
  readonly dropNearDuplicates?: boolean | undefined;
  readonly sheet: string;
  readonly count: number;
  /** Direction in the drawing that must lie along the sheet's fibre; absent: free. */
  readonly fibreDeg?: number | undefined;
  /** Across the fibre too, where the weave is balanced. */
  readonly mayCross?: boolean | undefined;
  readonly mayFlip?: boolean | undefined;
  /** Least distance to the next plate, mm. */
  readonly gap: number;
  readonly layers: {
    /** Absent: every layer that is not ignored and no recess. */
    readonly cut?: readonly string[] | undefined;
    readonly ignore: readonly string[];
    readonly recess: readonly RecessLayer[];
  };
  readonly mates: readonly Mate[];
  readonly fasteners: readonly Fastener[];
  readonly relief: readonly WindowRelief[];
  /** The first copies go here; the layout takes the rest. */
  readonly fixed: readonly FixedPlace[];
  /** Points with names, plate frame, carried into the plan. */
  readonly points?: readonly { readonly name: string; readonly at: Point }[] | undefined;
  readonly place: JobPlace;
  /** Of its drawing's and its sheet's name. */
  readonly drawingPlace: JobPlace;
  readonly sheetPlace: JobPlace;
}

export interface JobCutter extends Cutter {
  readonly place: JobPlace;
}

/** Prices for the estimate, in one currency. */
export interface JobRates {
  readonly perHour: number;
  readonly currency: string;
  /** Minutes at the machine before the first program. */
  readonly setupMinutes: number;
  /** Share of its area's price that an offcut is worth. */
  readonly offcutValue: number;
}

export interface Job {
  /** As it was named to `parseJob`. */
  readonly file: string;
  readonly name: string;
  readonly machine: Machine;
  readonly machinePlace: JobPlace;
  readonly origin: JobOrigin;
  readonly sheets: readonly JobSheet[];
  readonly plates: readonly JobPlate[];
  readonly cutters: readonly JobCutter[];
  readonly cutting: CuttingOptions;
  readonly rates: JobRates;
  /** The cutters' ledger, as the job names it; absent: `cutter-life.jsonl` beside the job, if it is there. */
  readonly ledger?: string | undefined;
  /** `find`: mates that geometry shows are proposed. */
  readonly mates: "named" | "find";
  /** Rules whose weight the job changes. */
  readonly checks: readonly Override[];
  readonly props?: Propellers | undefined;
}

/** The job's sheet once its outline is known. */
export function sheetOf(sheet: JobSheet, outline: Contour): Sheet {
  const { shape: _shape, layout: _layout, place: _place, ...rest } = sheet;
  return { ...rest, outline };
}

/**
 * A name as part of a file name that every controller's card and every system takes: ASCII letters,
 * digits, `-`, `_` and `.`, never first a point. `parseJob` sees to it that no two sheets and no two
 * cutters of a job share theirs.
 */
export function fileSlug(name: string): string {
  const ascii = name.normalize("NFKD").replace(/[\u0300-\u036f]/g, "");
  const slug = ascii.replace(/[^A-Za-z0-9._-]+/g, "-").replace(/^[-.]+|[-.]+$/g, "");
  return slug === "" ? "unnamed" : slug.slice(0, 40);
}
