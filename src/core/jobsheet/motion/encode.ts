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
import { type NumberWriter, newWriter, putCount, putSigned, writtenText } from "./vlq-write.ts";

/** Places in µm. */
export const PER_MM: number = 1000;
/** Times in 0.1 ms. */
export const PER_SECOND: number = 10_000;
/** Feeds in 0.1 mm/min. */
export const PER_FEED: number = 10;

/** The lowest two bits are the kind. What a usual block needs comes first: it is then one character. */
export const KIND: Readonly<Record<"rapid" | "feed" | "dwell" | "event", number>> = {
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
  const pen: Pen = { line: 0, x: 0, y: 0, z: 0, feed: 0, rpm: 0, seconds: 0, ticks: 0 };
  const into = newWriter();
  putCount(into, trace.steps.length);
  for (let i = 0; i < trace.steps.length; i++) {
    const step = trace.steps[i] as TraceStep;
    if (isMove(step)) putMove(into, pen, step);
    else putOther(into, pen, step);
    pen.seconds += stepSeconds[i] ?? 0;
    const ticks = Math.round(pen.seconds * PER_SECOND);
    putCount(into, ticks - pen.ticks);
    pen.ticks = ticks;
  }
  return writtenText(into);
}

function putMove(into: NumberWriter, pen: Pen, move: TraceMove): void {
  const x0 = whole(move.x0);
  const y0 = whole(move.y0);
  const z0 = whole(move.z0);
  const x1 = whole(move.x1);
  const y1 = whole(move.y1);
  const z1 = whole(move.z1);
  const { arc } = move;
  const feed = Math.round(move.feed * PER_FEED);
  const rpm = Math.round(move.rpm);
  let flags = KIND[move.kind];
  if (z1 !== z0) flags += FLAG.z;
  if (arc !== undefined) {
    flags += FLAG.arc;
    if (arc.sweep > 0) flags += FLAG.ccw;
    if (Math.abs(arc.sweep) > Math.PI) flags += FLAG.large;
  }
  if (move.kind === "feed" && feed !== pen.feed) flags += FLAG.feed;
  if (rpm !== pen.rpm) flags += FLAG.rpm;
  if (x0 !== pen.x || y0 !== pen.y || z0 !== pen.z) flags += FLAG.start;
  if (((move.unknown ?? 0) & UNKNOWN_XY) !== 0) flags += FLAG.unknown;
  putHead(into, pen, move.line, flags);
  if (flags & FLAG.start) {
    putSigned(into, x0 - pen.x);
    putSigned(into, y0 - pen.y);
    putSigned(into, z0 - pen.z);
  }
  putSigned(into, x1 - x0);
  putSigned(into, y1 - y0);
  if (flags & FLAG.z) putSigned(into, z1 - z0);
  if (arc !== undefined) {
    putSigned(into, whole(arc.cx) - x0);
    putSigned(into, whole(arc.cy) - y0);
  }
  if (flags & FLAG.feed) {
    putCount(into, feed);
    pen.feed = feed;
  }
  if (flags & FLAG.rpm) putCount(into, rpm);
  pen.rpm = rpm;
  pen.x = x1;
  pen.y = y1;
  pen.z = z1;
}

function putOther(into: NumberWriter, pen: Pen, step: Exclude<TraceStep, TraceMove>): void {
  if (step.kind === "dwell") {
    putHead(into, pen, step.line, KIND.dwell);
    return;
  }
  const rpm = Math.round(step.rpm);
  const turns = rpm !== pen.rpm;
  pen.rpm = rpm;
  putHead(into, pen, step.line, KIND.event + (turns ? FLAG.rpm : 0));
  if (turns) putCount(into, rpm);
  putCount(into, EVENTS.indexOf(step.kind));
}

function putHead(into: NumberWriter, pen: Pen, line: number, flags: number): void {
  const skipped = line - pen.line;
  pen.line = line;
  putCount(into, skipped === 1 ? flags : flags + FLAG.line);
  if (skipped !== 1) putSigned(into, skipped);
}

/** As `TraceMove.unknown` counts them. */
const UNKNOWN_XY = 3;

/** 10 km: differences of such places stay exact. */
const MOST_UM = 1e10;

/** µm. What is no place is put at nought. */
function whole(mm: number): number {
  const um = Math.round(mm * PER_MM);
  return Math.abs(um) <= MOST_UM ? um : 0;
}
