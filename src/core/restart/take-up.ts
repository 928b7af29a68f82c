/**
 * Where an interrupted program is taken up again.
 *
 * Words. A *run* is what is fed without a rapid between. A *pass* is what the cutter does from where it
 * begins to go down to where it begins to go down again; going down by more than the pass depth, as in
 * a bore, counts as several passes. *Sure* is what is taken to be cut: all before the take-up.
 *
 * Promise: all that is cut twice is of the interrupted pass, and of the blocks that the controller may
 * have shown ahead.
 */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayRestart } from "../finding/say-restart.ts";
import { plateStarts } from "../motion/by-plate.ts";
import { isMove, type Trace, type TraceMove, type TraceStep } from "../program/read/trace.ts";
import { plainAscii } from "../program/write/words.ts";

const say = reporter(sayRestart);

/** Rounding of heights, mm. */
const LEVEL = 1e-6;

export type Interrupted =
  /** The line that the controller showed, and how many blocks it may have been ahead of the cutter. */
  | { readonly line: number; readonly ahead: number }
  /** The plate that was being cut: nothing of it is taken to be cut. `arm 2` is the second copy. */
  | { readonly plate: string };

export interface TakeUp {
  /** Steps before this one are sure to be cut. */
  readonly step: number;
  /** First step of its run. */
  readonly run: number;
  /** Steps before this one may be cut, from this one on none is. */
  readonly open: number;
}

export function takeUpOf(trace: Trace, at: Interrupted, passDepth: number): TakeUp | Finding {
  return "plate" in at ? ofPlate(trace, at.plate) : ofLine(trace, at, passDepth);
}

function ofLine(
  { file, lines, steps }: Trace,
  { line, ahead }: { readonly line: number; readonly ahead: number },
  passDepth: number,
): TakeUp | Finding {
  if (line > lines) return say("restart-line-beyond", { file, line, lines });
  const stood = nextFeed(steps, (s) => s.line >= line);
  if (stood < 0) {
    const last = steps.findLast((s) => s.kind === "feed")?.line ?? 0;
    return say("restart-nothing-left", { file, line, last }, { program: { file, line } });
  }
  const back = nextFeed(steps, (_, i) => i >= blocksBack(steps, stood, ahead));
  const step = passStart(steps, back, passDepth);
  return { step, run: runStart(steps, step), open: afterLine(steps, stood) };
}

/** A drilling cycle feeds several times in one line: all of it may be cut. */
function afterLine(steps: readonly TraceStep[], stood: number): number {
  const line = steps[stood]?.line;
  let last = stood;
  for (let i = stood + 1; i < steps.length && steps[i]?.line === line; i++) {
    if (steps[i]?.kind === "feed") last = i;
  }
  return last + 1;
}

function nextFeed(
  steps: readonly TraceStep[],
  from: (step: TraceStep, index: number) => boolean,
): number {
  return steps.findIndex((s, i) => s.kind === "feed" && from(s, i));
}

function blocksBack(steps: readonly TraceStep[], from: number, blocks: number): number {
  let at = from;
  let left = blocks;
  for (let i = from - 1; i >= 0 && left > 0; i--) {
    if (!isMove(steps[i])) continue;
    at = i;
    left--;
  }
  return at;
}

function runStart(steps: readonly TraceStep[], from: number): number {
  let first = from;
  for (let i = from - 1; i >= 0 && steps[i]?.kind !== "rapid"; i--) {
    if (steps[i]?.kind === "feed") first = i;
  }
  return first;
}

const falls = (m: TraceMove): boolean => m.z1 < m.z0 - LEVEL;

function passStart(steps: readonly TraceStep[], from: number, passDepth: number): number {
  const first = runStart(steps, from);
  let at = from;
  while (at > first && !falls(steps[at] as TraceMove)) at = feedBefore(steps, at);
  const bottom = (steps[at] as TraceMove).z1;
  while (at > first) {
    const before = feedBefore(steps, at);
    const move = steps[before] as TraceMove;
    if (!falls(move) || move.z0 - bottom > passDepth + LEVEL) break;
    at = before;
  }
  return at;
}

/** Within a run there is one. */
function feedBefore(steps: readonly TraceStep[], from: number): number {
  let i = from - 1;
  while (i > 0 && steps[i]?.kind !== "feed") i--;
  return i;
}

function ofPlate(trace: Trace, wanted: string): TakeUp | Finding {
  const { file, steps } = trace;
  const starts = plateStarts(trace);
  if (starts.length === 0) return say("restart-without-plates", { file });
  // Programs name plates in plain letters.
  const name = plainAscii(wanted);
  const named = starts.filter((s) => `${s.plate} ${s.copy}` === name);
  const runs = named.length > 0 ? named : starts.filter((s) => s.plate === name);
  const found = runs[0];
  // A plate may be cut in several goes: nothing of the first is taken as cut, and the last may be done.
  const alike = runs.filter(
    (s, i) => runs.findIndex((o) => o.plate === s.plate && o.copy === s.copy) === i,
  );
  const last = runs.at(-1) ?? found;
  const known = (some: typeof starts) => some.map((s) => `${s.plate} ${s.copy}`).join(", ");
  if (found === undefined) {
    return say("restart-plate-unknown", { file, plate: wanted, known: known(starts) });
  }
  if (alike.length > 1) {
    return say("restart-plate-copies", { file, plate: wanted, known: known(alike) });
  }
  const next = starts[starts.indexOf(last ?? found) + 1]?.line ?? Number.POSITIVE_INFINITY;
  const step = nextFeed(steps, (s) => s.line > found.line);
  if (step < 0) return say("restart-nothing-left", { file, line: found.line, last: found.line });
  const after = steps.findIndex((s) => s.line >= next);
  return { step, run: runStart(steps, step), open: after < 0 ? steps.length : after };
}
