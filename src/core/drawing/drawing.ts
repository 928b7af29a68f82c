/**
 * A drawing as read: closed loops in mm, and everything that was repaired, ignored or left open.
 * Frame: the drawing's own, Y up (SVG's Y is turned), mm.
 */
import type { Finding } from "../finding/finding.ts";
import type { Box, Contour, Origin, Point } from "../geometry/shape.ts";

export type LengthUnit =
  | "mm"
  | "cm"
  | "dm"
  | "m"
  | "um"
  | "nm"
  | "in"
  | "ft"
  | "yd"
  | "mil"
  | "uin"
  | "px"
  | "pt"
  | "pc";

export interface Units {
  /** What the file says; null where it says nothing. */
  readonly declared: LengthUnit | null;
  readonly used: LengthUnit;
  /** mm for each drawing unit. */
  readonly factor: number;
  /** True where neither the file nor the user said so. */
  readonly assumed: boolean;
}

export interface Loop {
  /** As drawn: direction carries no meaning. */
  readonly contour: Contour;
  readonly layer: string;
  /** Area as drawn, mm², where facets or splines were taken for the circle that they stand for. */
  readonly drawnArea?: number | undefined;
}

export interface OpenChain {
  readonly start: Point;
  readonly end: Point;
  /** Distance from end to start, mm. */
  readonly gap: number;
  readonly layer: string;
  readonly drawing: Origin;
  /** What was drawn, for pictures. */
  readonly segments: Contour["segments"];
}

export interface Ignored {
  readonly type: string;
  readonly layer?: string | undefined;
  readonly count: number;
  readonly why: string;
}

export interface Drawing {
  readonly file: string;
  readonly format: "dxf" | "svg";
  readonly units: Units;
  readonly bounds: Box;
  readonly loops: readonly Loop[];
  readonly openChains: readonly OpenChain[];
  readonly ignored: readonly Ignored[];
  /** What was mended: duplicates, joined gaps, recovered circles. */
  readonly repairs: readonly Finding[];
  /** Everything else that has to be said. */
  readonly findings: readonly Finding[];
}

export interface ReadOptions {
  /** Overrides what the file says. */
  readonly units?: "mm" | "in" | undefined;
  /** Only these layers, if given. */
  readonly cutLayers?: readonly string[] | undefined;
  readonly ignoreLayers?: readonly string[] | undefined;
  /** Gaps up to this are closed too, mm; absent: 0.01. */
  readonly closeGaps?: number | undefined;
  /** Of loops that follow each other within a tenth of a millimetre only the first is kept. */
  readonly dropNearDuplicates?: boolean | undefined;
  /**
   * Reads bytes in encodings of two bytes a character, which core has no tables for; the name is that of
   * the WHATWG encoding standard. Without it such names keep their bytes.
   */
  readonly decodeText?: ((bytes: Uint8Array, encoding: string) => string) | undefined;
}
