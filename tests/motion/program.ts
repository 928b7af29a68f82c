/** Traces and machines for the tests of motion, made without the reader. */
import type { Machine } from "../../src/core/machine/machine.ts";
import type { Trace, TraceArc, TraceMove, TraceStep } from "../../src/core/program/read/trace.ts";

export function machine(change: Partial<Machine> = {}): Machine {
  return {
    name: "test router",
    travel: [400, 400, 80],
    maxFeed: [6000, 6000, 6000],
    acceleration: [500, 500, 500],
    junctionDeviation: 0.01,
    spindle: { min: 8000, max: 24_000, powerW: 500, spinUpS: 5 },
    decimals: 4,
    lineLength: 70,
    dwell: "seconds",
    comments: "parentheses",
    repeatMotion: false,
    workOffset: "G54",
    arcs: true,
    // High enough that no test meets it unless it names its own.
    blocksPerSecond: 1e6,
    ...change,
  };
}

export function trace(steps: readonly TraceStep[], file = "test.nc"): Trace {
  return {
    file,
    steps,
    comments: [],
    lines: steps.length,
    longestLine: 20,
    states: { units: true, absolute: true, plane: true, feedMode: true },
    ended: true,
    findings: [],
  };
}

export type Xyz = readonly [number, number, number];

export interface Go {
  readonly to: Xyz;
  readonly feed?: number;
  readonly rapid?: boolean;
  readonly arc?: TraceArc;
  readonly rpm?: number;
}

/** Moves one after the other from `from`, one line each. */
export function go(from: Xyz, moves: readonly Go[], firstLine = 1): TraceMove[] {
  let at = from;
  return moves.map((move, i) => {
    const step: TraceMove = {
      kind: move.rapid === true ? "rapid" : "feed",
      line: firstLine + i,
      x0: at[0],
      y0: at[1],
      z0: at[2],
      x1: move.to[0],
      y1: move.to[1],
      z1: move.to[2],
      arc: move.arc,
      feed: move.rapid === true ? 0 : (move.feed ?? 3000),
      rpm: move.rpm ?? 20_000,
      startKnown: true,
    };
    at = move.to;
    return step;
  });
}

/** Arc from `from` about a centre; returns the move, its end included. */
export function arcTo(from: Xyz, centre: readonly [number, number], sweep: number, dz = 0): Go {
  const dx = from[0] - centre[0];
  const dy = from[1] - centre[1];
  const c = Math.cos(sweep);
  const s = Math.sin(sweep);
  return {
    to: [centre[0] + dx * c - dy * s, centre[1] + dx * s + dy * c, from[2] + dz],
    arc: { cx: centre[0], cy: centre[1], radius: Math.hypot(dx, dy), sweep },
  };
}
