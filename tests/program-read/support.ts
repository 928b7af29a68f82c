import { type ReadOptions, readProgram } from "../../src/core/program/read/read.ts";
import type { Trace, TraceMove } from "../../src/core/program/read/trace.ts";

/** A start that every controller knows: mm, absolute, XY, units a minute. */
export const START = "G21 G90 G17 G94\n";

export function read(text: string, options: ReadOptions = {}): Trace {
  return readProgram("test.nc", text, options);
}

export function moves(trace: Trace): TraceMove[] {
  return trace.steps.filter((s): s is TraceMove => s.kind === "rapid" || s.kind === "feed");
}

/** The moves of some lines after a rapid to a place. */
export function movesFrom(at: readonly [number, number, number], lines: string): TraceMove[] {
  const trace = read(`${START}G0 X${at[0]} Y${at[1]} Z${at[2]}\n${lines}\nM2\n`);
  return moves(trace).slice(1);
}

export function codes(trace: Trace): string[] {
  return trace.findings.map((f) => f.code);
}

/** The codes that one line after START and a rapid to (0, 0, 5) is refused with. */
export function refusals(line: string): string[] {
  return codes(read(`${START}G0 X0 Y0 Z5 F100\n${line}\nM2\n`));
}
