/**
 * Sheets, and plates placed on them. Sheet frame: mm, origin at the lower-left corner of the sheet's
 * box, X right, Y up.
 */
import type { MaterialName } from "../cutting/cutter.ts";
import type { Box, Contour, Point, Rigid } from "../geometry/shape.ts";
import type { Feature, Plate } from "../plate/plate.ts";

export type KeepOut =
  | { readonly kind: "disc"; readonly at: Point; readonly diameter: number }
  | { readonly kind: "box"; readonly box: Box };

export interface Sheet {
  readonly name: string;
  readonly material: MaterialName;
  /** Nominal, mm. */
  readonly thickness: number;
  /** Used instead of `thickness` where given, mm. */
  readonly measuredThickness?: number | undefined;
  /** Counter-clockwise, sheet frame. */
  readonly outline: Contour;
  readonly fibreDeg: number;
  /** Least distance from a plate's contour to the sheet's edge, mm. */
  readonly margin: number;
  readonly keepOuts: readonly KeepOut[];
  /** Least distance from a plate's contour to a keep-out where that is more than a kerf needs, mm. */
  readonly keepOutRoom?: number | undefined;
  readonly price?: number | undefined;
  /** Sheets of this kind that there are; absent: one. */
  readonly count?: number | undefined;
  /** The user's own, g/cm³ and J/mm³, instead of the material's. */
  readonly density?: number | undefined;
  readonly specificEnergy?: number | undefined;
}

export function thicknessOf(sheet: Sheet): number {
  return sheet.measuredThickness ?? sheet.thickness;
}

/** One copy of a plate on a sheet. `outer` and `features` are already in the sheet frame. */
export interface Placement {
  readonly plate: Plate;
  /** 1, 2, … among the copies of this plate. */
  readonly copy: number;
  readonly plateToSheet: Rigid;
  readonly outer: Contour;
  readonly features: readonly Feature[];
  /** Set where this plate lies inside a window of another placement on the same sheet. */
  readonly inside?: { readonly placement: number; readonly feature: number } | undefined;
}

export interface SheetLayout {
  readonly sheet: Sheet;
  readonly placements: readonly Placement[];
  /** Plate area ÷ sheet area. */
  readonly utilisation: number;
}
