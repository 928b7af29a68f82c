/**
 * RS-274 text → Trace: what the machine will do, line by line.
 *
 * Source: Kramer, Proctor, Messina, The NIST RS274/NGC Interpreter, Version 3, NISTIR 6556, August 2000.
 * ISO 6983-1 and EIA RS-274-D were not read. Plain codes only: XY plane, no compensation, no
 * expressions; whatever else stands in a program is a finding.
 *
 * Promise: never throws, whatever the text. Every error is a finding with its program line, and its
 * column in `data`; the line that has it is not executed, and reading goes on with the next.
 * Cost: one pass, about 2 µs a line, and one object a move.
 */
import type { Finding } from "../../finding/finding.ts";
import { checkBlock, newOrders, type Orders } from "./check-block.ts";
import { gName } from "./codes.ts";
import { execute } from "./execute.ts";
import { type Block, newBlock, scanLine } from "./scan.ts";
import { newState, placeOf, report, type State } from "./state.ts";
import type { Trace, TraceComment, TraceStep, TraceStyle } from "./trace.ts";

/** How the controller at hand differs from the standard. */
export interface ReadOptions {
  /** What P of G4 counts; seconds unless said. */
  readonly dwell?: "seconds" | "milliseconds" | undefined;
  /** True where `;` begins a comment that runs to the end of the line. */
  readonly semicolons?: boolean | undefined;
  /** True where a program ends with its last line. */
  readonly endless?: boolean | undefined;
  /** What one S stands for; 1 rpm unless said. */
  readonly rpmPerS?: number | undefined;
}

interface Reading {
  readonly state: State;
  readonly block: Block;
  readonly orders: Orders;
  readonly comments: TraceComment[];
  readonly semicolons: boolean;
  /** The file began with a %, so that a second one ends it. */
  percent: boolean;
  begun: boolean;
  afterEnd: number;
  firstAfterEnd: number;
}

export function readProgram(file: string, text: string, options: ReadOptions = {}): Trace {
  const reading: Reading = {
    state: newState(file, options.rpmPerS),
    block: newBlock(),
    orders: newOrders(),
    comments: [],
    semicolons: options.semicolons ?? false,
    percent: false,
    begun: false,
    afterEnd: 0,
    firstAfterEnd: 0,
  };
  const { state } = reading;
  let longestLine = 0;
  let longestAt = 0;
  for (let from = 0; from < text.length; ) {
    let next = text.indexOf("\n", from);
    if (next < 0) next = text.length;
    const to = next > from && text.charCodeAt(next - 1) === 13 ? next - 1 : next;
    if (to - from > longestLine) {
      longestLine = to - from;
      longestAt = state.line + 1;
    }
    state.line++;
    if (state.ended) countAfterEnd(reading, text, from, to);
    else readLine(reading, text, from, to);
    from = next + 1;
  }
  if (options.endless === true) state.ended = true;
  closeReading(reading);
  return {
    file,
    steps: options.dwell === "milliseconds" ? inSeconds(state.steps) : state.steps,
    comments: reading.comments,
    lines: state.line,
    longestLine,
    longestAt,
    states: state.stated,
    ended: state.ended,
    style: styleOf(state),
    findings: state.findings,
  };
}

function readLine(reading: Reading, text: string, from: number, to: number): void {
  const { state, block, orders } = reading;
  if (text.charCodeAt(from) === 37 || !reading.begun) {
    const line = text.slice(from, to).trim();
    if (line === "") return;
    if (line === "%") {
      readPercent(reading);
      return;
    }
    reading.begun = true;
  }
  scanLine(text, from, to, block, reading.semicolons);
  for (const comment of block.comments) reading.comments.push({ line: state.line, text: comment });
  const finding = scanError(state, block) ?? checkBlock(state, block, orders);
  if (finding !== undefined) {
    state.findings.push(finding);
    return;
  }
  if (block.deleted) state.deleted++;
  execute(state, block, orders);
}

function scanError(state: State, block: Block): Finding | undefined {
  const { error } = block;
  if (error === undefined) return undefined;
  return report(error.code, { column: error.column, text: error.text }, placeOf(state));
}

function readPercent(reading: Reading): void {
  const { state } = reading;
  if (!reading.begun) {
    reading.begun = true;
    reading.percent = true;
  } else if (reading.percent) state.ended = true;
  else state.findings.push(report("program-percent", { column: 1 }, placeOf(state)));
}

function countAfterEnd(reading: Reading, text: string, from: number, to: number): void {
  const line = text.slice(from, to).trim();
  if (line === "" || line === "%") return;
  if (reading.afterEnd++ === 0) reading.firstAfterEnd = reading.state.line;
}

function closeReading(reading: Reading): void {
  const { state } = reading;
  const at = (line: number) => ({ program: { file: state.file, line } });
  if (!state.ended) state.findings.push(report("program-no-end", { column: 1 }, at(state.line)));
  if (reading.afterEnd > 0) {
    const data = { column: 1, lines: reading.afterEnd };
    state.findings.push(report("program-after-end", data, at(reading.firstAfterEnd)));
  }
  if (state.deleted > 0) {
    const data = { column: 1, count: state.deleted };
    state.findings.push(
      report("program-block-delete", data, { program: { file: state.file, line: 1 } }),
    );
  }
}

function styleOf(state: State): TraceStyle {
  const { style } = state;
  const codes: { code: string; line: number }[] = [];
  style.gLines.forEach((line, code) => {
    if (line > 0) codes.push({ code: gName(code), line });
  });
  style.mLines.forEach((line, code) => {
    if (line > 0) codes.push({ code: `M${code}`, line });
  });
  return {
    mmDecimals: style.decimals[0],
    mmDecimalsLine: style.decimalsLine[0],
    inchDecimals: style.decimals[1],
    inchDecimalsLine: style.decimalsLine[1],
    modalMotionLine: style.modalMotionLine,
    codes: codes.sort((a, b) => a.line - b.line),
  };
}

function inSeconds(steps: readonly TraceStep[]): readonly TraceStep[] {
  return steps.map((step) =>
    step.kind === "dwell" ? { ...step, seconds: step.seconds / 1000 } : step,
  );
}
