/**
 * Every tolerance of weftcut, mm, with its reason and who uses it. A number here is a promise; change
 * it only with the promise.
 */

/** Coordinates are snapped to this on entry (drawing): far below any cutter, far above double noise. */
export const GRID: number = 1e-4;

/** Loose ends this near are one point (drawing): published plates have gaps of 0.018 and more that must be told. */
export const JOIN: number = 0.01;

/** Splines and ellipses become arcs within this (drawing). */
export const CURVE: number = 0.005;

/** Each curve by itself stays this near; the rest of CURVE is for merging arcs in a row (drawing). */
export const FIT: number = CURVE / 5;

/** Clipper sees arcs as chords within this (geometry/offset); attribution makes them exact again. */
export const FACET: number = 0.002;

/** A result edge is the offset of a source segment when ends and middle lie this near it (geometry/offset). */
export const ATTRIBUTION: number = 0.004;

/** A loop no larger than this each way is a speck: there is no cutter for it, nor a use (job). */
export const DUST: number = 0.1;

/** A hole or slot this little wider than the cutter counts as its width (toolpath, check). */
export const BARELY: number = 0.02;

/** Proof allows this much beyond a plate's contour: rounding, and nothing else (proof). */
export const OVERCUT: number = 0.01;

/** Arc ends may differ in radius by this in the program (NISTIR 6556 sec. 3.5.3.2). */
export const ARC_RADIUS: number = 0.002;

/** Moves in a row become one where the way stays this near (program/write): a tenth of what rounding may add up to. */
export const MERGE: number = 0.001;

/** No offset yields a segment shorter than this: a controller cannot place it (geometry/offset). */
export const SHORTEST: number = 0.002;

/** A bend whose corner arc bulges less than this beyond the mitre is joined by the mitre (geometry/offset). */
export const SLIGHT: number = 0.0015;

/** Ends this near are one point: above double noise at 10 m, and invisible along an arc's tangent (geometry). */
export const WELD: number = 1e-6;

/** Segments shorter than this are no segments, and ends this near are one point without more ado (drawing). */
export const SPECK: number = GRID;

/** Two drawn things are the same thing drawn twice within this: writers round to three decimals (drawing). */
export const DUPLICATE: number = 0.001;

/** Gaps up to this are named and offered for closing; wider ones are openings (drawing). */
export const GAP: number = 0.2;

/** Two loops that follow each other within this are one loop drawn twice, badly (drawing). */
export const NEAR: number = 0.12;

/** Vertices of a faceted circle lie on it within this: coordinates of three decimals (drawing). */
export const ON_CIRCLE: number = 0.002;

/** A facet that stays this near its arc was meant as the arc: 12 facets of a 7 mm hole, 36 of 65 mm (drawing). */
export const FACET_RISE: number = 0.125;

/**
 * A plate drawn on a layout is the job's own if its outline strays no further (layout/read-back): two decimals are
 * 0.007 off, curves redrawn within CURVE come on top, and no plate differs from another by so little.
 */
export const MATCH: number = 0.02;
