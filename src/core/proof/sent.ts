/**
 * A sheet's moves as rows of numbers, to have them checked elsewhere: thousands of objects take twice as long to go
 * from thread to thread (measured, made rows and objects again included). Nothing is rounded.
 */
import { isMove, type TraceMove } from "../program/read/trace.ts";
import type { MovesProgram, SheetInput } from "./proof.ts";

export interface SentMoves extends Omit<SheetInput, "programs"> {
  readonly programs: readonly SentProgram[];
}

interface SentProgram extends Omit<MovesProgram, "trace"> {
  /** `FIELDS` numbers for each move. */
  readonly moves: Float64Array;
}

/** Kind, line, both ends, feed, speed, what is known of the start, and of an arc centre, radius and sweep. */
const FIELDS = 16;

export function sendable({ programs, ...input }: SheetInput): SentMoves {
  const sent = programs.map(({ trace, ...program }) => {
    return { ...program, moves: rowsOf(trace.steps.filter(isMove)) };
  });
  return { ...input, programs: sent };
}

export function received({ programs, ...input }: SentMoves): SheetInput {
  const read = programs.map(({ moves, ...program }): MovesProgram => {
    return { ...program, trace: { steps: fromRows(moves) } };
  });
  return { ...input, programs: read };
}

function rowsOf(moves: readonly TraceMove[]): Float64Array {
  const rows = new Float64Array(FIELDS * moves.length);
  for (let i = 0; i < moves.length; i++) {
    const m = moves[i] as TraceMove;
    const at = FIELDS * i;
    rows[at] = m.kind === "rapid" ? 0 : 1;
    rows[at + 1] = m.line;
    rows[at + 2] = m.x0;
    rows[at + 3] = m.y0;
    rows[at + 4] = m.z0;
    rows[at + 5] = m.x1;
    rows[at + 6] = m.y1;
    rows[at + 7] = m.z1;
    rows[at + 8] = m.feed;
    rows[at + 9] = m.rpm;
    rows[at + 10] = m.startKnown ? 1 : 0;
    rows[at + 11] = m.unknown ?? -1;
    const { arc } = m;
    // No arc has a radius below nought.
    rows[at + 12] = arc === undefined ? -1 : arc.radius;
    if (arc === undefined) continue;
    rows[at + 13] = arc.cx;
    rows[at + 14] = arc.cy;
    rows[at + 15] = arc.sweep;
  }
  return rows;
}

function fromRows(rows: Float64Array): TraceMove[] {
  const moves: TraceMove[] = [];
  for (let at = 0; at < rows.length; at += FIELDS) {
    const of = (k: number): number => rows[at + k] as number;
    const unknown = of(11);
    const arc = of(12) < 0 ? undefined : { cx: of(13), cy: of(14), radius: of(12), sweep: of(15) };
    moves.push({
      kind: of(0) === 0 ? "rapid" : "feed",
      line: of(1),
      x0: of(2),
      y0: of(3),
      z0: of(4),
      x1: of(5),
      y1: of(6),
      z1: of(7),
      arc,
      feed: of(8),
      rpm: of(9),
      startKnown: of(10) === 1,
      unknown: unknown < 0 ? undefined : unknown,
    });
  }
  return moves;
}
