/**
 * The text of a restart: the modal setup afresh, up, spindle and its dwell, over the entry, down it, then
 * the rest of the program step by step.
 *
 * It is written from what the program does and not from its text, so that a program in inches or in steps
 * becomes a plain one; of one of our own each line comes out as it was.
 */
import type { Machine } from "../machine/machine.ts";
import { isMove, type Trace, type TraceMove, type TraceStep } from "../program/read/trace.ts";
import {
  BY_HAND,
  begin,
  finish,
  opening,
  speedWord,
  spindleOffWords,
  spindleOn,
} from "../program/write/frame.ts";
import { afresh, feedMove, type Lines, linesFor, rapidXY, rapidZ } from "../program/write/lines.ts";
import { comment, dwell } from "../program/write/words.ts";
import type { Entry } from "./entry.ts";
import { replay } from "./replay.ts";

export interface RestartText {
  readonly trace: Trace;
  /** Step that is taken up. */
  readonly step: number;
  readonly entry: Entry;
  readonly machine: Machine;
  /** Program frame. */
  readonly clearance: number;
  /** Words for the head, before its cautions. */
  readonly head: readonly string[];
}

export interface RestartLines {
  readonly text: string;
  /** Lines, from 1, of the first and the last of the setup and the entry. */
  readonly look: readonly [first: number, last: number];
}

export function restartText(restart: RestartText): RestartLines {
  const { machine, head, clearance } = restart;
  const l = linesFor(machine, { x: 0, y: 0, z: 0 });
  l.text.push(...opening(machine));
  for (const text of [...head, ...CAUTIONS]) l.text.push(...comment(text, machine));
  const first = l.text.length + 1;
  enter(l, restart);
  const last = l.text.length;
  goOn(l, restart);
  afresh(l);
  l.z = undefined;
  rapidZ(l, clearance);
  spindleOffWords(l);
  finish(l);
  return { text: `${l.text.join("\n")}\n`, look: [first, last] };
}

const CAUTIONS: readonly string[] = [
  "before start: same zero as before, checked at a finished edge; sheet not moved since",
  "after a new cutter: Z zero set again. Loose pieces and dust taken out of the kerf",
  "dust harms lungs and electronics: extract at the cutter, wear respirator and goggles",
];

function enter(l: Lines, { trace, step, entry, machine, clearance }: RestartText): void {
  const { rpm } = trace.steps[step] as TraceMove;
  begin(l);
  rapidZ(l, clearance);
  spindleOn(l, rpm);
  l.text.push(...comment("entry, along the way already cut", machine));
  afresh(l);
  rapidXY(l, entry.start);
  rapidZ(l, entry.startZ);
  for (const move of entry.moves) feedMove(l, move);
  l.text.push(...comment(`taken up at line ${trace.steps[step]?.line} of ${trace.file}`, machine));
  afresh(l);
}

function goOn(l: Lines, { trace, step, machine, clearance }: RestartText): void {
  const { steps } = trace;
  const from = steps[step]?.line ?? 0;
  const comments = trace.comments.filter((c) => c.line > from && !c.text.startsWith(BY_HAND));
  let said = 0;
  let spindle = (steps[step] as TraceMove).rpm;
  for (let i = step; i < steps.length; i++) {
    const s = steps[i] as TraceStep;
    while (said < comments.length && (comments[said]?.line ?? 0) <= s.line) {
      const { line, text } = comments[said++] as Trace["comments"][number];
      l.text.push(...comment(numbered(text, line), machine));
    }
    if (isMove(s)) replay(l, s, clearance);
    else if (s.kind === "dwell") l.text.push(dwell(s.seconds, machine));
    else if (s.kind === "stop") l.text.push("M0");
    else if (s.kind === "spindle-off" && s.implied !== true && moreToCut(steps, i)) {
      l.text.push("M5");
      spindle = 0;
    } else if (s.kind === "spindle-on" && s.rpm !== spindle) {
      l.text.push(`S${speedWord(s.rpm, machine)} M3`);
      spindle = s.rpm;
    }
  }
}

/** Who must take up a restart again finds the line of the first program; a plate's own line is read by that name. */
function numbered(text: string, line: number): string {
  return /^\s*plate .+ copy \d+\s*$/.test(text) ? text : `${text}, was line ${line}`;
}

function moreToCut(steps: readonly TraceStep[], from: number): boolean {
  return steps.slice(from).some((s) => s.kind === "feed");
}
