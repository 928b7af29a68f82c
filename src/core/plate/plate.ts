/**
 * A plate: one outer contour, and the holes, slots, windows and recesses in it, recognised from
 * geometry. Plate frame = the drawing's own coordinates in mm.
 */
import type { Box, Contour, Origin, Point } from "../geometry/shape.ts";

/** hole: a full circle. slot: two parallel sides and two half circles. window: any other. */
export type FeatureKind = "hole" | "slot" | "window" | "recess";

export interface Feature {
  /** 0, 1, … within the plate; kept when the plate is placed. */
  readonly id: number;
  readonly kind: FeatureKind;
  /** Clockwise. */
  readonly contour: Contour;
  /** Centre of a hole or slot, centroid of a window or recess. */
  readonly at: Point;
  /** Holes. */
  readonly diameter?: number | undefined;
  /** Slots: across, over all (between the far ends of the half circles), direction of the long side in [0, π). */
  readonly width?: number | undefined;
  readonly length?: number | undefined;
  readonly angle?: number | undefined;
  /** Recesses: depth below the sheet's top, mm. Others go through. */
  readonly depth?: number | undefined;
  readonly area: number;
  /** Area as drawn: before facets or splines were taken for the circle that they stand for, and off the grid. */
  readonly drawnArea?: number | undefined;
}

export interface Plate {
  readonly name: string;
  /** The drawing file as the job names it. */
  readonly drawing: string;
  /** Counter-clockwise. */
  readonly outer: Contour;
  readonly features: readonly Feature[];
  /** Outer contour less its holes, slots and windows, mm². */
  readonly area: number;
  /** The same of what was drawn. */
  readonly drawnArea?: number | undefined;
  readonly perimeter: number;
  readonly bounds: Box;
  /** Set where the drawing shows this plate inside a window of another plate of the same drawing. */
  readonly drawnInside?: { readonly plate: string; readonly feature: number } | undefined;
  /** Stretches of the outline that sit in another plate's slot; no holding tab goes there. */
  readonly matingEdges?: readonly { readonly from: Point; readonly to: Point }[] | undefined;
  /** Points with a name, from whoever drew the plate: motor centres, standoffs. Plate frame. */
  readonly points?: readonly { readonly name: string; readonly at: Point }[] | undefined;
  readonly origin?: Origin | undefined;
}
