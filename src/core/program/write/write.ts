/**
 * Cuts as an RS-274 program for one machine.
 *
 * Only the plain codes that every small controller takes: G0 G1 G2 G3 G4 G17 G21 G54 G90 G94 M2 M3 M5 (NISTIR
 * 6556, August 2000; ISO 6983-1 and EIA RS-274-D were not read in full). I and J are increments, F is
 * written on feed moves alone, S once, the spindle gets its dwell, and the program ends with Z up, M5, M2.
 */
import type { Box } from "../../geometry/shape.ts";
import { thicknessOf } from "../../layout/layout.ts";
import type { Machine } from "../../machine/machine.ts";
import type { Cut, CutProgram, CuttingOptions } from "../../toolpath/cut.ts";
import { begin, finish, spindleOffWords, spindleOn } from "./frame.ts";
import { headOf } from "./head.ts";
import { afresh, feedMoves, type Lines, linesFor, rapidXY, rapidZ } from "./lines.ts";
import type { Slowed } from "./pace.ts";
import { comment, number } from "./words.ts";

export interface WriteContext {
  readonly job: string;
  readonly machine: Machine;
  readonly options: CuttingOptions;
  readonly originAt: string;
  readonly zAt: "sheet-top" | "spoilboard";
  /** Program X0 Y0 in the sheet frame, mm. */
  readonly zero: { readonly x: number; readonly y: number };
  /** Counted from 1. */
  readonly number: number;
  /** What is new since the program before: absent, the sheet; a cutter; a fresh one for a worn one. */
  readonly change?: "sheet" | "cutter" | "worn" | undefined;
}

/** What the head says, though it is known only after the program has been made. */
export interface Late {
  /** Known once the program has been read back and timed. */
  readonly minutes?: number | undefined;
  /** How many programs the job has: known once all its sheets are routed. */
  readonly of: number;
}

export interface Written {
  readonly text: string;
  /** Motion blocks. */
  readonly blocks: number;
  /** Lowest Z below the sheet's top, mm, negative. */
  readonly deepest: number;
  /** Where the cutter's centre comes, program frame; absent where it goes nowhere. */
  readonly box: Box | undefined;
  readonly slowed: Slowed;
  /** The line at which each plate block begins, counted from 1. */
  readonly blockLines: readonly number[];
}

/** A program but for what is known late. */
export interface Prepared extends Omit<Written, "text" | "blockLines"> {
  text(late: Late): string;
  blockLines(late: Late): readonly number[];
}

export function writeProgram(program: CutProgram, context: WriteContext & Late): Written {
  const { text, blockLines, ...rest } = prepareProgram(program, context);
  return { ...rest, text: text(context), blockLines: blockLines(context) };
}

export function prepareProgram(program: CutProgram, context: WriteContext): Prepared {
  const { body, starts } = bodyOf(program, context);
  const lines = body.text.join("\n");
  const { box, lowest } = body;
  const clearance = context.options.clearance - zeroZ(program, context);
  const head = ({ minutes, of }: Late): string[] =>
    headOf(program, { ...context, minutes, of }, { box, lowest, clearance });
  return {
    // A controller without comments gets no head, and no empty line in its place.
    text: (late) => `${[...head(late), lines].join("\n")}\n`,
    blockLines: (late) => {
      const before = head(late).length;
      return starts.map((n) => before + n + 1);
    },
    blocks: body.blocks,
    slowed: body.slowed,
    box,
    deepest: body.lowest + zeroZ(program, context),
  };
}

/** Z of program zero in the frame where the sheet's top is 0. */
function zeroZ({ sheet }: CutProgram, { zAt }: WriteContext): number {
  return zAt === "spoilboard" ? -thicknessOf(sheet) : 0;
}

interface Body {
  readonly body: Lines;
  /** Lines of the body before each plate block. */
  readonly starts: readonly number[];
}

function bodyOf(program: CutProgram, context: WriteContext): Body {
  const { machine, options } = context;
  const l = linesFor(machine, { ...context.zero, z: zeroZ(program, context) });
  begin(l);
  rapidZ(l, options.clearance);
  spindleOn(l, program.rates.rpm);
  const starts: number[] = [];
  let first = true;
  for (const block of program.blocks) {
    starts.push(l.text.length);
    l.text.push(...comment(`plate ${block.plate} copy ${block.copy}`, machine));
    for (const cut of block.cuts) {
      writeCut(l, cut, context, first);
      first = false;
    }
  }
  afresh(l);
  l.z = undefined;
  rapidZ(l, options.clearance);
  spindleOffWords(l);
  finish(l);
  return { body: l, starts };
}

/** Up as far as the link says, and to clearance at first; across, down to just above the sheet; then the cut. */
function writeCut(
  l: Lines,
  cut: Cut,
  { zero, options: { clearance } }: WriteContext,
  first: boolean,
): void {
  // Who takes up again after a broken cutter finds the place by it.
  const x = number(cut.start.x - zero.x, 2);
  const y = number(cut.start.y - zero.y, 2);
  l.text.push(...comment(`${cut.label}, from X${x} Y${y}`, l.machine));
  afresh(l);
  // Said again at the head of every cut, though the controller may hold it: each starts safe by itself.
  l.z = undefined;
  rapidZ(l, first ? clearance : (cut.linkZ ?? clearance));
  rapidXY(l, cut.start);
  rapidZ(l, cut.startZ);
  feedMoves(l, { to: cut.start, z: cut.startZ }, cut.moves);
}
