/**
 * What a controller remembers from line to line, and the one way in which a move reaches the Trace.
 *
 * Positions are in the frame of the active work offset, mm: what G92 adds is already taken in, so a
 * G92 changes the words that follow and not the place of the cutter.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportProgram } from "../../finding/say-program.ts";
import type { TraceArc, TraceStep } from "./trace.ts";

/** Axis bits, as in TraceMove.unknown. */
export const X = 1;
export const Y = 2;
export const Z = 4;

export const MM_PER_INCH = 25.4;

/** What TraceStyle is made of. Decimals: of mm and of inch lines. Lines: by code (G times ten), 0 unused. */
export interface Style {
  readonly decimals: [number, number];
  readonly decimalsLine: [number, number];
  modalMotionLine: number;
  readonly gLines: Int32Array;
  readonly mLines: Int32Array;
}

export interface State {
  readonly file: string;
  readonly steps: TraceStep[];
  readonly findings: Finding[];
  line: number;
  /** mm in one unit of length: 1 or 25.4. */
  unit: number;
  absolute: boolean;
  inverse: boolean;
  /** Motion code in force, times ten; 800 is none. */
  motion: number;
  /** 980: cycles rise to where they began; 990: to R. */
  retract: number;
  /** Work offset chosen, times ten; 540 before any is. */
  system: number;
  /** mm/min; in inverse time the F of the line, 1/min. */
  feed: number;
  rpm: number;
  readonly rpmPerS: number;
  /** 1 forward, −1 reversed, 0 still. */
  spindle: number;
  readonly at: Float64Array;
  /** Where the move at hand leads: scratch of whoever calls moveTo. */
  readonly to: Float64Array;
  /** Axes whose place is not known. */
  unknown: number;
  /** What G92 adds to the words, mm, and what G92.2 put away. */
  readonly offset: Float64Array;
  readonly saved: Float64Array;
  readonly cycle: { z: number; r: number; dwell: number; peck: number };
  selected: number;
  loaded: number | undefined;
  moved: boolean;
  ended: boolean;
  deleted: number;
  readonly style: Style;
  readonly stated: { units: boolean; absolute: boolean; plane: boolean; feedMode: boolean };
}

/** As a controller wakes (NISTIR 6556): G90, G94, no motion, no feed; its units are not laid down. */
export function newState(file: string, rpmPerS = 1): State {
  return {
    file,
    steps: [],
    findings: [],
    line: 0,
    unit: 1,
    absolute: true,
    inverse: false,
    motion: 800,
    retract: 980,
    system: 540,
    feed: 0,
    rpm: 0,
    rpmPerS,
    spindle: 0,
    at: new Float64Array(3),
    to: new Float64Array(3),
    unknown: X | Y | Z,
    offset: new Float64Array(3),
    saved: new Float64Array(3),
    cycle: { z: 0, r: 0, dwell: 0, peck: 0 },
    selected: 0,
    loaded: undefined,
    moved: false,
    ended: false,
    deleted: 0,
    style: {
      decimals: [0, 0],
      decimalsLine: [0, 0],
      modalMotionLine: 0,
      gLines: new Int32Array(1000),
      mLines: new Int32Array(100),
    },
    stated: { units: false, absolute: false, plane: false, feedMode: false },
  };
}

export const report: typeof reportProgram = reportProgram;

export const placeOf = (state: State): { program: { file: string; line: number } } => ({
  program: { file: state.file, line: state.line },
});

/**
 * Moves the cutter to `state.to`. `named` are the axes that the block names: from now on they are
 * known. A move that moves nothing leaves no step.
 */
export function moveTo(
  state: State,
  named: number,
  feed: number | undefined,
  arc?: TraceArc,
): void {
  const { at, to, unknown } = state;
  const fresh = unknown & named;
  const x1 = to[0] as number;
  const y1 = to[1] as number;
  const z1 = to[2] as number;
  const x0 = fresh & X ? x1 : (at[0] as number);
  const y0 = fresh & Y ? y1 : (at[1] as number);
  const z0 = fresh & Z ? z1 : (at[2] as number);
  if (fresh !== 0 || arc !== undefined || x0 !== x1 || y0 !== y1 || z0 !== z1) {
    state.steps.push({
      kind: feed === undefined ? "rapid" : "feed",
      line: state.line,
      x0,
      y0,
      z0,
      x1,
      y1,
      z1,
      arc,
      feed: feed ?? 0,
      rpm: state.spindle === 0 ? 0 : state.rpm,
      startKnown: unknown === 0,
      unknown,
    });
  }
  arrive(state, named);
}

/** The cutter stands at `state.to`, whether or not a step led there. */
export function arrive(state: State, named: number): void {
  const { at, to } = state;
  at[0] = to[0] as number;
  at[1] = to[1] as number;
  at[2] = to[2] as number;
  state.unknown &= ~named;
  state.moved = true;
}

export function aim(state: State, x: number, y: number, z: number): void {
  state.to[0] = x;
  state.to[1] = y;
  state.to[2] = z;
}
