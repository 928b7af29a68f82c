/**
 * Fits by name, as clearance in all across a mating sheet, mm. Common practice: zero does not assemble, 0.05–0.1 in
 * all is taken in sheets of 3 mm; a free fit of twice that is derived.
 */
export const FIT_NAMES = ["press", "snug", "free"] as const;
export type FitName = (typeof FIT_NAMES)[number];

export const FITS: Readonly<Record<FitName, number>> = { press: 0.05, snug: 0.1, free: 0.2 };

/** How inside corners are cut free: chosen by what stays of the plate, or as named, or not at all. */
export const RELIEFS = ["chosen", "along-wall", "bisector", "none"] as const;
export type ReliefWish = (typeof RELIEFS)[number];
