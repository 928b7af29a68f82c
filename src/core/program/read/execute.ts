/**
 * Executes one checked line, in the standard's order whatever the order of its words (NISTIR 6556,
 * Table 8): feed mode, F, S, T, cutter change, spindle, dwell, units, work offset, distance, return,
 * G92, motion, stop. So F on the line of a G20 is still read in mm, and an M5 beside a motion stops
 * the spindle before it.
 */

import type { Orders } from "./check-block.ts";
import {
  DISTANCE,
  FEED_MODE,
  gName,
  MOTION,
  NON_MODAL,
  PLANE,
  RETURN,
  SPINDLE,
  STOPPING,
  SYSTEM,
  TOOL,
  UNITS,
} from "./codes.ts";
import { FIRST_AXIS, runMotion } from "./motion.ts";
import { type Block, letterBit, letterIndex } from "./scan.ts";
import { MM_PER_INCH, placeOf, report, type State, X, Y, Z } from "./state.ts";

const F = letterIndex("F");
const S = letterIndex("S");
const T = letterIndex("T");
const P = letterIndex("P");
const bitF = letterBit("F");
const bitS = letterBit("S");
const bitT = letterBit("T");
const bitP = letterBit("P");

export function execute(state: State, block: Block, orders: Orders): void {
  const { letters, values } = block;
  if (block.gCount > 0) noteCodes(orders.g, state.style.gLines, state.line);
  if (block.mCount > 0) noteCodes(orders.m, state.style.mLines, state.line);
  if (orders.g[FEED_MODE] !== -1) setFeedMode(state, orders.g[FEED_MODE] === 930);
  if (letters & bitF) {
    state.feed = (values[F] as number) * (state.inverse ? 1 : state.unit);
  }
  if (letters & (bitS | bitT) || block.mCount > 0) runMachine(state, block, orders);
  if (block.gCount > 0 && !runModes(state, block, orders)) return;
  if (block.decimals > 0) noteDecimals(state, block.decimals);
  if (orders.motion >= 0) {
    const modal = (orders.g[MOTION] as number) < 0;
    if (modal && state.style.modalMotionLine === 0) state.style.modalMotionLine = state.line;
    runMotion(state, block, orders);
  }
  if ((orders.g[MOTION] as number) >= 0) state.motion = orders.g[MOTION] as number;
  if ((orders.m[STOPPING] as number) >= 0) runStop(state, orders.m[STOPPING] as number);
}

function noteCodes(codes: Int32Array, lines: Int32Array, line: number): void {
  for (const code of codes) if (code >= 0 && lines[code] === 0) lines[code] = line;
}

function noteDecimals(state: State, decimals: number): void {
  const { style } = state;
  const i = state.unit === 1 ? 0 : 1;
  if (decimals <= style.decimals[i]) return;
  style.decimals[i] = decimals;
  style.decimalsLine[i] = state.line;
}

function setFeedMode(state: State, inverse: boolean): void {
  // A rate does not survive the change of what it counts.
  if (state.inverse !== inverse) state.feed = 0;
  state.inverse = inverse;
  if (!state.moved) state.stated.feedMode = true;
}

function runMachine(state: State, block: Block, orders: Orders): void {
  const { letters, values } = block;
  const spindle = orders.m[SPINDLE] as number;
  if (letters & bitS) {
    const rpm = speedOf(values[S] as number, state.rpmPerS);
    const changed = rpm !== state.rpm;
    state.rpm = rpm;
    if (changed && state.spindle !== 0 && spindle < 0) spindleEvent(state);
  }
  if (letters & bitT) state.selected = Math.round(values[T] as number);
  if (orders.m[TOOL] === 6) changeCutter(state);
  if (spindle >= 0) {
    state.spindle = spindle === 3 ? 1 : spindle === 4 ? -1 : 0;
    spindleEvent(state);
  }
}

/** Where S counts steps a millionth of a turn is rounding. */
function speedOf(s: number, rpmPerS: number): number {
  return rpmPerS === 1 ? s : Math.round(s * rpmPerS * 1e6) / 1e6;
}

function spindleEvent(state: State, implied?: boolean): void {
  const kind =
    state.spindle === 0 ? "spindle-off" : state.spindle > 0 ? "spindle-on" : "spindle-reversed";
  state.steps.push({ kind, line: state.line, rpm: state.spindle === 0 ? 0 : state.rpm, implied });
}

function changeCutter(state: State): void {
  const { loaded, selected } = state;
  if (loaded !== undefined && loaded !== selected && state.moved) {
    const data = { column: 1, first: loaded, second: selected };
    state.findings.push(report("program-cutter-change", data, placeOf(state)));
  }
  state.loaded = selected;
  if (state.spindle !== 0) {
    state.spindle = 0;
    spindleEvent(state, true);
  }
  state.steps.push({ kind: "stop", line: state.line, rpm: 0 });
}

/** G4 to G92; false where the line's motion must not run. */
function runModes(state: State, block: Block, orders: Orders): boolean {
  const { g } = orders;
  const { stated, moved } = state;
  if (g[NON_MODAL] === 40 && !dwell(state, block)) return false;
  if (g[PLANE] === 170 && !moved) stated.plane = true;
  if (g[UNITS] !== -1) {
    state.unit = g[UNITS] === 200 ? MM_PER_INCH : 1;
    if (!moved) stated.units = true;
  }
  if (g[SYSTEM] !== -1) chooseSystem(state, g[SYSTEM] as number);
  if (g[DISTANCE] !== -1) {
    state.absolute = g[DISTANCE] === 900;
    if (!moved) stated.absolute = true;
  }
  if (g[RETURN] !== -1) state.retract = g[RETURN] as number;
  if ((g[NON_MODAL] as number) >= 920) runOffset(state, block, g[NON_MODAL] as number, orders.axes);
  return true;
}

function dwell(state: State, block: Block): boolean {
  if ((block.letters & bitP) === 0) {
    state.findings.push(report("program-number-range", { column: 1, why: "no-P" }, placeOf(state)));
    return false;
  }
  state.steps.push({ kind: "dwell", line: state.line, seconds: block.values[P] as number });
  return true;
}

function chooseSystem(state: State, system: number): void {
  if (state.moved && system !== state.system) {
    const data = { column: 1, first: gName(state.system), second: gName(system) };
    state.findings.push(report("program-work-offset", data, placeOf(state)));
    state.unknown = X | Y | Z;
  }
  state.system = system;
}

function runOffset(state: State, block: Block, code: number, axes: number): void {
  const { offset, saved, at } = state;
  for (let axis = 0; axis < 3; axis++) {
    const now = offset[axis] as number;
    if (code === 921) saved[axis] = 0;
    if (code === 922) saved[axis] = now;
    if (code === 921 || code === 922) offset[axis] = 0;
    if (code === 923) offset[axis] = saved[axis] as number;
    if (code !== 920 || (axes & (1 << axis)) === 0) continue;
    const named = (block.values[FIRST_AXIS + axis] as number) * state.unit;
    if (state.unknown & (1 << axis)) {
      state.findings.push(report("program-offset-at-start", { column: 1 }, placeOf(state)));
      state.unknown &= ~(1 << axis);
      at[axis] = named + now;
    } else {
      offset[axis] = (at[axis] as number) - named;
      saved[axis] = offset[axis] as number;
    }
  }
}

/** M0, M1, M2, M30. The end stops the spindle, too (sec. 3.6.1). */
function runStop(state: State, code: number): void {
  if (code <= 1) {
    state.steps.push({ kind: "stop", line: state.line, rpm: state.spindle === 0 ? 0 : state.rpm });
    return;
  }
  if (state.spindle !== 0) {
    state.spindle = 0;
    spindleEvent(state, true);
  }
  state.steps.push({ kind: "end", line: state.line, rpm: 0 });
  state.ended = true;
}
