/**
 * Strokes: the moves of a program in the sheet frame, with the radius of what moves.
 *
 * Words: a stroke's *tip* is the lowest point of the cutter; Z falls or rises evenly along a stroke, so
 * the part of it below some depth is again a stroke. The cutter is flat below: where the tip passes, it
 * takes away everything above, out to its radius.
 */
import { isMove, type TraceMove } from "../../program/read/trace.ts";
import type { MovesProgram, TargetSheet } from "../proof.ts";
import { bendOf } from "./bend.ts";
import { arcCurve, type Curve, lineCurve, partOf } from "./curve.ts";

export interface Stroke {
  readonly curve: Curve;
  readonly z0: number;
  readonly z1: number;
  readonly radius: number;
  readonly rapid: boolean;
  /** mm/min along the path, and rpm. */
  readonly feed: number;
  readonly rpm: number;
  readonly drill: boolean;
  /** Radius of the curve that a straight move is a chord of, mm; without end where it is none. */
  readonly bend: number;
  /** Number of the program among those of the proof, and its line. */
  readonly program: number;
  readonly line: number;
  /** Bits of the axes whose start is not known: 1, 2, 4 for X, Y, Z. */
  readonly unknown: number;
}

/** Lifts that are no more than rounding. */
const Z_NOISE = 1e-6;

/** Moves on one way, as pass after pass makes them, share their curve: what was found out about it holds for all. */
export function strokesOf(
  program: MovesProgram,
  index: number,
  sheet: Pick<TargetSheet, "programZero">,
): Stroke[] {
  const { trace, cutter } = program;
  const { brokenOff } = trace;
  const moves = trace.steps.filter(isMove);
  const radius = cutter.effectiveDiameter / 2;
  const drill = cutter.kind === "drill";
  const { x, y, z } = sheet.programZero;
  const curves = new Map<number, Shared>();
  const strokes: Stroke[] = [];
  for (let i = 0; i < moves.length; i++) {
    const m = moves[i] as TraceMove;
    const after = m === brokenOff?.after ? brokenOff.before : moves[i + 1];
    strokes.push({
      curve: sharedCurve(curves, m, x, y),
      z0: m.z0 + z,
      z1: m.z1 + z,
      radius,
      rapid: m.kind === "rapid",
      feed: m.feed,
      rpm: m.rpm,
      drill,
      bend: bendOf(moves[i - 1], m, after, radius),
      program: index,
      line: m.line,
      unknown: m.unknown ?? (m.startKnown ? 0 : 7),
    });
  }
  return strokes;
}

/** A curve with the move that it was made of, and the next one that has the same key. */
interface Shared {
  readonly curve: Curve;
  readonly move: TraceMove;
  readonly next: Shared | undefined;
}

function sharedCurve(curves: Map<number, Shared>, m: TraceMove, dx: number, dy: number): Curve {
  // In tenths of a micrometre, mixed by odd factors; equality is looked at below.
  const key = ((m.x0 + 3.7 * m.y0 + 11.3 * m.x1 + 31.9 * m.y1) * 1e4) & 0x3fffffff;
  const like = curves.get(key);
  for (let s = like; s !== undefined; s = s.next) if (sameWay(s.move, m)) return s.curve;
  const curve = curveOfMove(m, dx, dy);
  curves.set(key, { curve, move: m, next: like });
  return curve;
}

function sameWay(a: TraceMove, b: TraceMove): boolean {
  if (a.x0 !== b.x0 || a.y0 !== b.y0 || a.x1 !== b.x1 || a.y1 !== b.y1) return false;
  const [c, d] = [a.arc, b.arc];
  if (c === undefined || d === undefined) return c === d;
  return c.cx === d.cx && c.cy === d.cy && c.radius === d.radius && c.sweep === d.sweep;
}

function curveOfMove(m: TraceMove, dx: number, dy: number): Curve {
  const x0 = m.x0 + dx;
  const y0 = m.y0 + dy;
  const x1 = m.x1 + dx;
  const y1 = m.y1 + dy;
  if (m.arc === undefined) return lineCurve(x0, y0, x1, y1);
  const { cx, cy, radius, sweep } = m.arc;
  return arcCurve([x0, y0, x1, y1], cx + dx, cy + dy, radius, sweep);
}

export const lowest = (s: Stroke): number => Math.min(s.z0, s.z1);

export function zAt(s: Stroke, t: number): number {
  return s.z0 + (s.z1 - s.z0) * t;
}

/** The part of a stroke at or below `z`, if there is one. */
export function below(s: Stroke, z: number): Stroke | undefined {
  const limit = z + Z_NOISE;
  const in0 = s.z0 <= limit;
  const in1 = s.z1 <= limit;
  if (in0 && in1) return s;
  if (!in0 && !in1) return undefined;
  const t = (limit - s.z0) / (s.z1 - s.z0);
  return in0 ? portion(s, 0, t) : portion(s, t, 1);
}

/** The part of a stroke above `z`, if there is one. */
export function above(s: Stroke, z: number): Stroke | undefined {
  const in0 = s.z0 > z;
  const in1 = s.z1 > z;
  if (in0 && in1) return s;
  if (!in0 && !in1) return undefined;
  const t = (z - s.z0) / (s.z1 - s.z0);
  return in0 ? portion(s, 0, t) : portion(s, t, 1);
}

export function portion(
  s: Stroke,
  t0: number,
  t1: number,
  curve: Curve = partOf(s.curve, t0, t1),
): Stroke {
  const { radius, rapid, feed, rpm, drill, bend, program, line, unknown } = s;
  // Field by field: some ten thousand are made, and spreading is several times slower.
  return {
    curve,
    z0: zAt(s, t0),
    z1: zAt(s, t1),
    radius,
    rapid,
    feed,
    rpm,
    drill,
    bend,
    program,
    line,
    unknown,
  };
}
