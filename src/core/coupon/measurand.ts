/**
 * What is measured on a coupon, and what each measure tells.
 *
 * A machine that moves s mm for each mm asked, with a cutter that clears D where D₀ was planned, leaves walls that were
 * drawn L apart s(L − D₀) + D apart where the cutter was between them (*inside*), and s(L + D₀) − D where it went round
 * them (*outside*): linear in s and D. Holes are inside both ways, so they take the mean of both axes. mm.
 */
import type { Point } from "../geometry/shape.ts";

export interface Measurand {
  /** As the form and the file name it. */
  readonly id: string;
  readonly what: string;
  /** Engraved beside it as dots and strokes: of walls the letter's place in the alphabet. */
  readonly mark: number;
  readonly axis: "x" | "y" | "both";
  readonly side: "inside" | "outside";
  readonly drawn: number;
  /** In the coupon's own frame: in the middle between the walls. */
  readonly at: Point;
}

/** Slots of stepped width for the sheet itself, or tongues of stepped width for the gauge window. */
export interface Step {
  /** As many dots are drilled beside it; a stroke is five. */
  readonly number: number;
  readonly drawn: number;
  /** Planned room in all. */
  readonly clearance: number;
}

export interface CouponPlan {
  readonly sheet: string;
  readonly cutter: string;
  /** Effective diameter that the programs were made for. */
  readonly plannedDiameter: number;
  /** That the slots were made for. */
  readonly thickness: number;
  readonly wanted: number;
  readonly walls: readonly Measurand[];
  readonly slots: readonly Step[];
  readonly tongues: readonly Step[];
  /** Length of the window that tongues are tried in. */
  readonly gauge: number;
}

/** What people wrote down. */
export interface CouponMeasured {
  readonly plannedDiameter: number;
  readonly thickness: number;
  readonly wanted: number;
  readonly gauge: number;
  readonly walls: readonly (Pick<Measurand, "id" | "axis" | "side" | "drawn"> & {
    readonly measured: number;
  })[];
  readonly slots: readonly Step[];
  readonly tongues: readonly Step[];
  /** Number of the slot and the tongue that fit as wanted; halves are between two. */
  readonly bestSlot?: number | undefined;
  readonly bestTongue?: number | undefined;
}
