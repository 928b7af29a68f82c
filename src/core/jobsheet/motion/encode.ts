/**
 * A trace with its times as a short text, for the player: what the machine does, not how the program says it.
 *
 * Places are told to a micrometre and times to a tenth of a millisecond, each as the difference from the last
 * one as it was rounded, so that nothing adds up. A straight move of some millimetres takes about nine characters.
 * Form: the number of steps, then for each a number of flags (`FLAG`) and, in this order, what they announce: line, start,
 * x, y, z, centre from the start, feed, spindle speed, event, and the time that it takes. `decode.ts` reads it.
 */
import {
  isMove,
  type Trace,
  type TraceEvent,
  type TraceMove,
  type TraceStep,
} from "../../program/read/trace.ts";
import { putCount, putSigned } from "./vlq.ts";

/** Places in µm. */
export const PER_MM: number = 1000;
/** Times in 0.1 ms. */
export const PER_SECOND: number = 10_000;
/** Feeds in 0.1 mm/min. */
export const PER_FEED: number = 10;

/** The lowest two bits are the kind. What a usual block needs comes first: it is then one character. */
export const KIND: { readonly rapid: 0; readonly feed: 1; readonly dwell: 2; readonly event: 3 } = {
  rapid: 0,
  feed: 1,
  dwell: 2,
  event: 3,
};

export const FLAG: Readonly<
  Record<"z" | "arc" | "line" | "ccw" | "large" | "feed" | "rpm" | "start" | "unknown", number>
> = {
  z: 1 << 2,
  arc: 1 << 3,
  /** The line is not the one after the last step's. */
  line: 1 << 4,
  ccw: 1 << 5,
  /** More than half a turn. */
  large: 1 << 6,
  feed: 1 << 7,
  rpm: 1 << 8,
  /** It does not start where the last step ended. */
  start: 1 << 9,
  /** Where it starts is not known in X or Y. */
  unknown: 1 << 10,
};

export const EVENTS: readonly TraceEvent["kind"][] = [
  "spindle-on",
  "spindle-reversed",
  "spindle-off",
  "stop",
  "end",
];

interface Pen {
  readonly out: string[];
  line: number;
  /** µm. */
  x: number;
  y: number;
  z: number;
  feed: number;
  rpm: number;
  /** Seconds as they are, and ticks as they were written. */
  seconds: number;
  ticks: number;
}

export function encodeMotion(trace: Trace, stepSeconds: ArrayLike<number>): string {
  const pen: Pen = { out: [], line: 0, x: 0, y: 0, z: 0, feed: 0, rpm: 0, seconds: 0, ticks: 0 };
  putCount(pen.out, trace.steps.length);
  for (const [i, step] of trace.steps.entries()) {
    if (isMove(step)) putMove(pen, step);
    else putOther(pen, step);
    pen.seconds += stepSeconds[i] ?? 0;
    const ticks = Math.round(pen.seconds * PER_SECOND);
    putCount(pen.out, ticks - pen.ticks);
    pen.ticks = ticks;
  }
  return pen.out.join("");
}

function putMove(pen: Pen, move: TraceMove): void {
  const from = { x: whole(move.x0), y: whole(move.y0), z: whole(move.z0) };
  const to = { x: whole(move.x1), y: whole(move.y1), z: whole(move.z1) };
  const { arc } = move;
  const feed = Math.round(move.feed * PER_FEED);
  const jumps = from.x !== pen.x || from.y !== pen.y || from.z !== pen.z;
  const rises = to.z !== from.z;
  const fed = move.kind === "feed" && feed !== pen.feed;
  const turns = Math.round(move.rpm) !== pen.rpm;
  const { out } = pen;
  putHead(pen, move, [
    KIND[move.kind],
    flag(FLAG.z, rises),
    flag(FLAG.arc, arc !== undefined),
    flag(FLAG.ccw, arc !== undefined && arc.sweep > 0),
    flag(FLAG.large, arc !== undefined && Math.abs(arc.sweep) > Math.PI),
    flag(FLAG.feed, fed),
    flag(FLAG.rpm, turns),
    flag(FLAG.start, jumps),
    flag(FLAG.unknown, ((move.unknown ?? 0) & 3) !== 0),
  ]);
  if (jumps) {
    for (const axis of ["x", "y", "z"] as const) putSigned(out, from[axis] - pen[axis]);
  }
  putSigned(out, to.x - from.x);
  putSigned(out, to.y - from.y);
  if (rises) putSigned(out, to.z - from.z);
  if (arc !== undefined) {
    putSigned(out, whole(arc.cx) - from.x);
    putSigned(out, whole(arc.cy) - from.y);
  }
  if (fed) putCount(out, feed);
  if (turns) putCount(out, Math.round(move.rpm));
  Object.assign(pen, to);
  if (fed) pen.feed = feed;
  if (turns) pen.rpm = Math.round(move.rpm);
}

function putOther(pen: Pen, step: Exclude<TraceStep, TraceMove>): void {
  if (step.kind === "dwell") {
    putHead(pen, step, [KIND.dwell]);
    return;
  }
  const rpm = Math.round(step.rpm);
  putHead(pen, step, [KIND.event, flag(FLAG.rpm, rpm !== pen.rpm)]);
  if (rpm !== pen.rpm) putCount(pen.out, rpm);
  putCount(pen.out, EVENTS.indexOf(step.kind));
  pen.rpm = rpm;
}

function putHead(pen: Pen, { line }: TraceStep, flags: readonly number[]): void {
  const skips = line !== pen.line + 1;
  const sum = flags.reduce((all, one) => all + one, flag(FLAG.line, skips));
  putCount(pen.out, sum);
  if (skips) putSigned(pen.out, line - pen.line);
  pen.line = line;
}

function flag(bit: number, on: boolean): number {
  return on ? bit : 0;
}

/** What is no place is put at nought. */
function whole(mm: number): number {
  const um = Math.round(mm * PER_MM);
  return Math.abs(um) <= MOST_UM ? um + 0 : 0;
}

/** 10 km: differences of such places stay exact. */
const MOST_UM = 1e10;
