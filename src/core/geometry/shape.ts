/**
 * The shapes that every room speaks: points, line and arc segments, closed contours.
 *
 * Frame: X right, Y up, mm. Angles in rad, counter-clockwise positive.
 * A contour is closed: the last segment ends where the first begins, to the bit. A full circle is one
 * arc whose `from` and `to` are equal and whose sweep is ±2π. Outer contours run counter-clockwise,
 * holes clockwise, once `recognise` has seen them.
 */

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where something was drawn, so that a finding can name it. Lines count from 1. */
export interface Origin {
  readonly file: string;
  readonly entity?: string;
  readonly line?: number;
}

export interface Line {
  readonly kind: "line";
  readonly from: Point;
  readonly to: Point;
  readonly origin?: Origin | undefined;
}

export interface Arc {
  readonly kind: "arc";
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly radius: number;
  /** Signed, rad, 0 < |sweep| ≤ 2π; positive is counter-clockwise. */
  readonly sweep: number;
  readonly origin?: Origin | undefined;
}

export type Segment = Line | Arc;

export interface Contour {
  readonly segments: readonly Segment[];
}

/** One outer contour (counter-clockwise) less its holes (clockwise). */
export interface Region {
  readonly outer: Contour;
  readonly holes: readonly Contour[];
}

export interface Box {
  readonly min: Point;
  readonly max: Point;
}

/**
 * A move between two frames: flip (x → −x) if `flipped`, then turn by `angle` rad counter-clockwise
 * about the origin, then shift by (x, y). Named for both frames where it is used: `plateToSheet`.
 */
export interface Rigid {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
  readonly flipped: boolean;
}
