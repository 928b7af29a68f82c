/**
 * Mates: plates that sit in one another's slots, what is asked of them, and the record of what was changed for them.
 *
 * Words: a *host* has the slot; a *tenon* is what sits in it, a straight end between two sides; its *shoulders* are the
 * edges beside it that come to lie on the host; its *roots* are the inside corners between. A tenon's thickness is
 * that of its sheet, as measured. *Clearance* is room in all, not on each side. mm, plate frames.
 */
import type { Cutter } from "../cutting/cutter.ts";
import type { Point } from "../geometry/shape.ts";
import type { Sheet } from "../layout/layout.ts";
import type { Plate } from "../plate/plate.ts";
import type { FitName, ReliefWish } from "./fits.ts";

export interface MateWish {
  /** In or at the slot. */
  readonly slot: Point;
  /** The job's name of the plate whose tenon sits in it. */
  readonly of: string;
  readonly clearance: number;
  readonly fit?: FitName | undefined;
  /** True where a fit and a clearance were given. */
  readonly both?: boolean | undefined;
  readonly relief?: ReliefWish | undefined;
}

export interface WindowWish {
  readonly window: Point;
  readonly way: "along-wall" | "bisector";
  readonly radius?: number | undefined;
}

/** One entry of the job: the plates of its drawing, all alike in what is asked of them. */
export interface FitPlate {
  readonly name: string;
  readonly plates: readonly Plate[];
  readonly sheet: Sheet;
  readonly count: number;
  readonly mates: readonly MateWish[];
  readonly relief: readonly WindowWish[];
}

export interface FitInput {
  readonly plates: readonly FitPlate[];
  readonly cutters: readonly Cutter[];
  /** Left for the finishing pass, mm; nothing where absent. */
  readonly finishStock?: number | undefined;
  /** Whether mates that geometry shows are proposed. */
  readonly propose: boolean;
}

export type ReliefWay = "round-ends" | "along-wall" | "bisector";

/** How far corners were cut free: the radius, and how far it bites past the walls that it bites into. */
export interface Relief {
  readonly way: ReliefWay;
  readonly radius: number;
  readonly bite: number;
  readonly corners: number;
}

export interface FitChange {
  readonly plate: string;
  readonly what: "slot" | "tenon" | "window";
  readonly at: Point;
  /** A slot's width and the length that its tenon has; a tenon's width and how far it reaches. */
  readonly before: { readonly width: number; readonly length: number };
  readonly after: { readonly width: number; readonly length: number };
  readonly with?: string | undefined;
  readonly clearance?: number | undefined;
  readonly relief?: Relief | undefined;
}
