/** Cutters and materials as the job names them. mm, m. */

export type CutterKind = "diamond-router" | "two-flute" | "compression" | "drill";
export type Coating = "none" | "dlc" | "diamond";
export type MaterialName = "carbon-woven" | "carbon-quasi-isotropic" | "glass-epoxy";

/** Cheap board in which a job is tried before its sheet is cut. */
export type TrialMaterial = "hardboard";
/** What rates are had for. */
export type RateMaterial = MaterialName | TrialMaterial;

export interface Cutter {
  readonly name: string;
  readonly kind: CutterKind;
  /** Nominal, mm. */
  readonly diameter: number;
  /** Width of the slot that it really cuts, mm; used instead of `diameter` where given. */
  readonly measuredDiameter?: number | undefined;
  readonly fluteLength: number;
  /** From the collet's face to the tip, mm. */
  readonly overhang: number;
  /** Round part above the flutes, mm; absent: the usual one for its size. */
  readonly shankDiameter?: number | undefined;
  readonly flutes: number;
  readonly coating: Coating;
  /** The user's own chip load at full width, mm/rev, instead of the chart's. */
  readonly feedPerRev?: number | undefined;
  /** The user's own surface speed at full width, m/min, instead of the chart's. */
  readonly surfaceSpeed?: number | undefined;
  /** Radius of its edges, mm; absent: a new edge's, by coating. */
  readonly edgeRadius?: number | undefined;
  /** Metres of plate edge in sheet of 2–3 mm. */
  readonly lifeMetres?: number | undefined;
  /** What its diameter loses over that life, mm, where somebody measured it. */
  readonly diameterLoss?: number | undefined;
  readonly price?: number | undefined;
  /** Added to every fit's clearance, mm, where a coupon has measured it. */
  readonly fitOffset?: number | undefined;
  /** What coupons have found, oldest first. */
  readonly coupons?: readonly CouponFound[] | undefined;
}

/** A coupon's verdict on a cutter, and what stood there before, mm. */
export interface CouponFound {
  readonly date: string;
  readonly measuredDiameter: number;
  readonly plusMinus: number;
  readonly fitOffset?: number | undefined;
  readonly fitPlusMinus?: number | undefined;
  readonly before?: number | undefined;
  readonly fitBefore?: number | undefined;
}

/** Half the nut of the collets that small routers have, and a little, mm (ER 11: 19 across, from memory). */
export const COLLET_RADIUS = 10;

/** The width that the cutter clears: measured if someone measured it. */
export function effectiveDiameter(cutter: Cutter): number {
  return cutter.measuredDiameter ?? cutter.diameter;
}

/**
 * What a program is run with on one sheet. Feeds in mm/min along the cutter-centre path on a straight
 * line; toolpath corrects them on arcs and in bores.
 */
export interface Rates {
  readonly rpm: number;
  /** Slotting at full width. */
  readonly feed: number;
  /** Light finishing pass. */
  readonly finishFeed: number;
  /** Straight down in air, or a drill. */
  readonly plungeFeed: number;
  /** Down along a ramp or helix. */
  readonly rampFeed: number;
  readonly passDepth: number;
  readonly feedPerRev: number;
  /** m/min. */
  readonly surfaceSpeed: number;
  readonly deflectionMm: number;
  readonly powerW: number;
  /** What holds feed, speed or depth below the chart, most telling first; `table` if nothing does. */
  readonly limitedBy: string;
  /** What the chart says for each kind of cut, at this spindle speed. */
  readonly passes?: readonly PassRates[] | undefined;
  readonly steps: readonly RateStep[];
}

/** One kind of cut at the chosen spindle speed: what the chart's row allows, and what is chosen within it. */
export interface PassRates {
  readonly operation: "slot" | "profile" | "light" | "drill";
  /** Spindle speed that the chart alone would ask for. */
  readonly wantedRpm: number;
  readonly feedPerRev: number;
  readonly feed: number;
  /** Widest and deepest cut that the row is for, mm; no deeper than the flutes. */
  readonly widest: number;
  readonly deepest: number;
  /** Chosen depth of one pass at the widest, mm, with what it comes to and what limits it. */
  readonly passDepth: number;
  readonly deflectionMm: number;
  readonly powerW: number;
  readonly limitedBy: string;
}

/** One line of the explanation: the quantity, how it was got, and who says so. */
export interface RateStep {
  readonly quantity: string;
  readonly formula: string;
  readonly value: number;
  readonly unit: string;
  readonly source: string;
}
