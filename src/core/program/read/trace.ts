/**
 * What a program makes the machine do, in the order in which it happens.
 *
 * This is all that proof and motion know of a program. Program coordinates as written (the frame of
 * the active work offset), mm, mm/min, s, rad. Nothing here is shared with the writer.
 */
import type { Finding } from "../../finding/finding.ts";

/** Arc in the XY plane; a change of Z along it makes a helix. */
export interface TraceArc {
  readonly cx: number;
  readonly cy: number;
  readonly radius: number;
  /** Signed, rad; positive is counter-clockwise; ±2π for a full circle. */
  readonly sweep: number;
}

export interface TraceMove {
  readonly kind: "rapid" | "feed";
  /** Program line, from 1. */
  readonly line: number;
  readonly x0: number;
  readonly y0: number;
  readonly z0: number;
  readonly x1: number;
  readonly y1: number;
  readonly z1: number;
  readonly arc: TraceArc | undefined;
  /** Along the path, mm/min; 0 on rapids. */
  readonly feed: number;
  /** Spindle speed in force; 0 when it stands still. */
  readonly rpm: number;
  /** False while an axis of the start is not known yet (before the first X, Y or Z word). */
  readonly startKnown: boolean;
  /**
   * Which axes of the start are not known: 1 for X, 2 for Y, 4 for Z, added up. An unknown axis that
   * the block names has its end in both places; one that it does not name stays unknown.
   */
  readonly unknown?: number | undefined;
}

export interface TraceDwell {
  readonly kind: "dwell";
  readonly line: number;
  readonly seconds: number;
}

/** Spindle, stops and program end, in order with the moves. */
export interface TraceEvent {
  /** A new S while the spindle turns counts as spindle-on again, with the new speed. */
  readonly kind: "spindle-on" | "spindle-reversed" | "spindle-off" | "stop" | "end";
  readonly line: number;
  readonly rpm: number;
  /** A spindle-off that no M5 asked for: the program's end or a cutter change did it. */
  readonly implied?: boolean | undefined;
}

/** How a program is written, as far as controllers differ in what they take. */
export interface TraceStyle {
  /** Most digits after the point in X Y Z I J K R, and the line that has them. */
  readonly mmDecimals: number;
  readonly mmDecimalsLine: number;
  readonly inchDecimals: number;
  readonly inchDecimalsLine: number;
  /** First line that moves without a motion code of its own; 0 where every line has one. */
  readonly modalMotionLine: number;
  /** Every code used, with the first line that has it: `G1`, `M3`, … in order of appearance. */
  readonly codes: readonly { readonly code: string; readonly line: number }[];
}

export type TraceStep = TraceMove | TraceDwell | TraceEvent;

export interface TraceComment {
  readonly line: number;
  readonly text: string;
}

export interface Trace {
  readonly file: string;
  readonly steps: readonly TraceStep[];
  readonly comments: readonly TraceComment[];
  /** Lines in the file, and the longest one in characters. */
  readonly lines: number;
  readonly longestLine: number;
  /** Number of the longest line. */
  readonly longestAt?: number | undefined;
  /** True where the program states them before its first motion. */
  readonly states: {
    readonly units: boolean;
    readonly absolute: boolean;
    readonly plane: boolean;
    readonly feedMode: boolean;
  };
  readonly ended: boolean;
  /** Of a program that was interrupted after a move: the one before which it was. */
  readonly brokenOff?: { readonly after: TraceMove; readonly before: TraceMove } | undefined;
  readonly style?: TraceStyle | undefined;
  readonly findings: readonly Finding[];
}

export const isMove = (s: TraceStep | undefined): s is TraceMove =>
  s?.kind === "rapid" || s?.kind === "feed";

export const isFeed = (s: TraceStep | undefined): s is TraceMove => s?.kind === "feed";
