/**
 * How the program is written, against RS-274/NGC (NISTIR 6556) and the machine's own profile: errors,
 * states, line length, decimals, arcs, spindle, beginning and end.
 */

import { ARC_RADIUS } from "../../geometry/tolerance.ts";
import { hypot } from "../../geometry/trig.ts";
import { HAND_S, type Spindle } from "../../machine/machine.ts";
import { isMove, type Trace, type TraceEvent } from "../../program/read/trace.ts";
import type { ProofProgram, ProofSetting } from "../proof.ts";
import { isWorse, leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

type SpotAt = (line: number) => () => Spot;

/** An inch digit is worth 25 times a millimetre's, so an inch program may have one more. */
const INCH_DECIMALS = 1;
/** Rounding of the coordinates that an arc's radius is measured from, mm. */
const ARC_ROOM = 1e-6;

export function checkProfile(input: ProofSetting, program: ProofProgram, offsetZ: number): Worst[] {
  const { trace } = program;
  const spot: SpotAt = (line) => () => ({
    sheet: program.sheet,
    program: { file: program.file, line },
  });
  return [
    checkErrors(trace, spot),
    checkStates(trace, spot),
    ...checkText(input, trace, spot),
    ...checkArcs(input, trace, spot),
    ...checkSpindle(input, trace, spot),
    checkEnd(input, trace, spot, offsetZ),
  ];
}

/** A count that starts at nothing. */
function counter(code: string, unit: string): Worst {
  const worst = mostOf(code, unit, 0);
  offer(worst, 0, () => ({}));
  return worst;
}

function checkErrors(trace: Trace, spot: SpotAt): Worst {
  const worst = counter("program-errors", "errors");
  const stops = trace.findings.filter((f) => f.severity === "stop");
  if (stops.length > 0) offer(worst, stops.length, spot(stops[0]?.program?.line ?? 1));
  return worst;
}

function checkStates(trace: Trace, spot: SpotAt): Worst {
  const worst = counter("states-not-stated", "states");
  const missing = Object.values(trace.states).filter((stated) => !stated).length;
  if (missing > 0) offer(worst, missing, spot(1));
  return worst;
}

function checkText(input: ProofSetting, trace: Trace, spot: SpotAt): Worst[] {
  const { machine } = input;
  const length = mostOf("line-length", "characters", machine.lineLength);
  offer(length, trace.longestLine, spot(trace.longestAt ?? 1));
  const decimals = mostOf("decimals", "digits", machine.decimals);
  const modal = counter("motion-not-repeated", "lines");
  const comments = counter("comments-refused", "comments");
  const words = counter("words-refused", "codes");
  const { style } = trace;
  if (style !== undefined) {
    offer(decimals, style.mmDecimals, spot(style.mmDecimalsLine));
    const inch = machine.decimals + INCH_DECIMALS;
    if (style.inchDecimals > 0)
      offer(decimals, style.inchDecimals, spot(style.inchDecimalsLine), inch);
    if (machine.repeatMotion && style.modalMotionLine > 0)
      offer(modal, 1, spot(style.modalMotionLine));
    const systems = style.codes.filter(
      (c) => machine.workOffset === "none" && /^G5[4-9]/.test(c.code),
    );
    if (systems.length > 0) offer(words, systems.length, spot(systems[0]?.line ?? 1));
  }
  if (machine.comments === "none" && trace.comments.length > 0) {
    offer(comments, trace.comments.length, spot(trace.comments[0]?.line ?? 1));
  }
  return [length, decimals, modal, comments, words];
}

function checkArcs(input: ProofSetting, trace: Trace, spot: SpotAt): Worst[] {
  const ends = mostOf("arc-ends", "mm", ARC_RADIUS + ARC_ROOM);
  const refused = counter("arcs-refused", "arcs");
  offer(ends, 0, () => ({}));
  let count = 0;
  for (const m of trace.steps) {
    if (!isMove(m) || m.arc === undefined) continue;
    const { cx, cy } = m.arc;
    const off = Math.abs(hypot(m.x0 - cx, m.y0 - cy) - hypot(m.x1 - cx, m.y1 - cy));
    if (isWorse(ends, off)) offer(ends, off, spot(m.line));
    if (!input.machine.arcs) offer(refused, ++count, spot(m.line));
  }
  return [ends, refused];
}

interface SpindleChecks {
  readonly slow: Worst;
  readonly fast: Worst;
  readonly reversed: Worst;
  readonly spinUp: Worst;
  readonly byHand: Worst;
}

interface SpindleState {
  rpm: number;
  reversals: number;
  /** What is still to be waited for, and what has been waited since the speed last changed, s. */
  wanted: number;
  waited: number;
  line: number;
  /** Whether nothing has been fed since. */
  fresh: boolean;
  /** Whether the program has stopped since, for a hand to start it. */
  stopped: boolean;
}

function checkSpindle(input: ProofSetting, trace: Trace, spot: SpotAt): Worst[] {
  const { spindle } = input.machine;
  const { start, handS = HAND_S } = spindle;
  const spinUpS = spindle.spinUpS + (start === "hand-in-dwell" ? handS : 0);
  const checks: SpindleChecks = {
    slow: leastOf("spindle-slow", "rpm", spindle.min),
    fast: mostOf("spindle-fast", "rpm", spindle.max),
    reversed: counter("spindle-reversed", "times"),
    spinUp: leastOf("spin-up", "s", spinUpS),
    byHand: counter("spindle-not-awaited", "times"),
  };
  const state = {
    rpm: 0,
    reversals: 0,
    wanted: 0,
    waited: 0,
    line: 1,
    fresh: false,
    stopped: true,
  };
  for (const step of trace.steps) {
    if (step.kind === "dwell") state.waited += step.seconds;
    else if (step.kind === "spindle-off") state.rpm = 0;
    else if (step.kind === "stop") state.stopped = true;
    else if (step.kind === "spindle-on" || step.kind === "spindle-reversed") {
      offerTurn(checks, state, step, spot);
      turnOn(spindle, spinUpS, state, step);
    } else if (step.kind === "feed" && state.fresh) {
      offer(checks.spinUp, state.waited, spot(state.line), state.wanted);
      if (!state.stopped) offer(checks.byHand, 1, spot(state.line));
      state.fresh = false;
    }
  }
  return [checks.slow, checks.fast, checks.reversed, checks.spinUp, checks.byHand];
}

function offerTurn(checks: SpindleChecks, state: SpindleState, step: TraceEvent, spot: SpotAt) {
  offer(checks.slow, step.rpm, spot(step.line));
  offer(checks.fast, step.rpm, spot(step.line));
  if (step.kind === "spindle-reversed") {
    offer(checks.reversed, ++state.reversals, spot(step.line));
  }
}

function turnOn({ max, start }: Spindle, spinUpS: number, state: SpindleState, step: TraceEvent) {
  if (step.rpm === state.rpm) return;
  // Between two speeds the time is taken to be in proportion to the change.
  const share = state.rpm === 0 ? 1 : Math.abs(step.rpm - state.rpm) / max;
  state.wanted = spinUpS * share;
  state.fresh = true;
  // A hand that starts it sets its speed, too.
  state.stopped = start !== "hand-at-stop";
  state.waited = 0;
  state.line = step.line;
  state.rpm = step.rpm;
}

/** An end, with the spindle stopped by the program itself and the cutter up. */
function checkEnd(input: ProofSetting, trace: Trace, spot: SpotAt, offsetZ: number): Worst {
  const worst = counter("unsafe-end", "faults");
  let z = Number.NEGATIVE_INFINITY;
  let on = false;
  for (const step of trace.steps) {
    if (isMove(step)) z = step.z1 + offsetZ;
    else if (step.kind === "spindle-on" || step.kind === "spindle-reversed") on = true;
    else if (step.kind === "spindle-off" && step.implied !== true) on = false;
  }
  const low = trace.steps.some(isMove) && z < input.limits.clearance - 0.001;
  const faults = [!trace.ended, on, low].filter(Boolean).length;
  if (faults > 0) offer(worst, faults, spot(trace.lines));
  return worst;
}
