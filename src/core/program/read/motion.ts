/**
 * The moves of a line: straight, arc, or handed on to a drilling cycle.
 *
 * A feed move without a feed is told of and still traced, with feed 0; an arc that cannot be is told
 * of and not traced, and the next line starts where it would have ended.
 */
import { hypot } from "../../geometry/trig.ts";
import { type ArcEnds, arcByCentre, arcByRadius } from "./arc.ts";
import type { Orders } from "./check-block.ts";
import { gName, NON_MODAL } from "./codes.ts";
import { runCycle } from "./cycle.ts";
import { type Block, letterBit, letterIndex } from "./scan.ts";
import { arrive, moveTo, placeOf, report, type State, X, Y } from "./state.ts";
import type { TraceArc } from "./trace.ts";

const R = letterIndex("R");
const I = letterIndex("I");
const J = letterIndex("J");
const bitF = letterBit("F");
const bitR = letterBit("R");
const bitI = letterBit("I");
const bitJ = letterBit("J");
const bitK = letterBit("K");
const bitsXY = letterBit("X") | letterBit("Y");
/** X, Y and Z are neighbours in the alphabet. */
export const FIRST_AXIS: number = letterIndex("X");

/** Where the line's axis words lead. */
function aimByWords(state: State, block: Block, axes: number): void {
  const { at, to, offset, unit } = state;
  const base = state.absolute ? offset : at;
  for (let axis = 0; axis < 3; axis++) {
    to[axis] =
      axes & (1 << axis)
        ? (block.values[FIRST_AXIS + axis] as number) * unit + (base[axis] as number)
        : (at[axis] as number);
  }
}

export function runMotion(state: State, block: Block, orders: Orders): void {
  const { axes, motion } = orders;
  if (motion >= 810) {
    runCycle(state, block, motion);
    return;
  }
  if (orders.g[NON_MODAL] === 530) {
    state.findings.push(report("program-machine-coordinates", { column: 1 }, placeOf(state)));
    state.unknown |= axes;
    state.moved = true;
    return;
  }
  let known = axes;
  const lacking = state.unknown & axes;
  if (!state.absolute && lacking !== 0) {
    const text = gName(motion);
    state.findings.push(report("program-start-unknown", { column: 1, text }, placeOf(state)));
    known = axes & ~lacking;
  }
  aimByWords(state, block, axes);
  if (motion === 0) {
    moveTo(state, known, undefined);
    return;
  }
  const arc = motion === 10 ? undefined : arcOf(state, block, motion === 20);
  if (arc === "bad") {
    arrive(state, known);
    return;
  }
  moveTo(state, known, feedOf(state, block, arc), arc);
}

function feedOf(state: State, block: Block, arc: TraceArc | undefined): number {
  const given = !state.inverse || (block.letters & bitF) !== 0;
  if (!given || state.feed === 0) {
    const code = given ? "program-zero-feed" : "program-inverse-feed";
    state.findings.push(report(code, { column: 1 }, placeOf(state)));
    return 0;
  }
  if (!state.inverse) return state.feed;
  const { at, to } = state;
  const along = (axis: number): number => (to[axis] as number) - (at[axis] as number);
  const flat = arc === undefined ? hypot(along(0), along(1)) : Math.abs(arc.sweep) * arc.radius;
  return state.feed * hypot(flat, along(2));
}

function arcOf(state: State, block: Block, clockwise: boolean): TraceArc | "bad" {
  const why = arcWordsBad(block.letters);
  if (why !== undefined) {
    state.findings.push(report("program-arc-form", { column: 1, why }, placeOf(state)));
    return "bad";
  }
  if (state.unknown & (X | Y)) {
    const text = clockwise ? "G2" : "G3";
    state.findings.push(report("program-start-unknown", { column: 1, text }, placeOf(state)));
    return "bad";
  }
  return solveArc(state, block, clockwise);
}

function arcWordsBad(letters: number): string | undefined {
  if (letters & bitK) return "k-word";
  if ((letters & bitsXY) === 0) return "no-end";
  const centre = (letters & (bitI | bitJ)) !== 0;
  const radius = (letters & bitR) !== 0;
  if (centre && radius) return "both-forms";
  return centre || radius ? undefined : "no-centre";
}

function solveArc(state: State, block: Block, clockwise: boolean): TraceArc | "bad" {
  const { letters, values } = block;
  const { at, to, unit } = state;
  const ends: ArcEnds = {
    x0: at[0] as number,
    y0: at[1] as number,
    x1: to[0] as number,
    y1: to[1] as number,
    clockwise,
    inches: unit !== 1,
  };
  const i = letters & bitI ? (values[I] as number) * unit : 0;
  const j = letters & bitJ ? (values[J] as number) * unit : 0;
  const result =
    letters & bitR ? arcByRadius(ends, (values[R] as number) * unit) : arcByCentre(ends, i, j);
  if (result.kind === "arc") return result.arc;
  if (result.kind === "form") {
    const data = { column: 1, why: result.why };
    state.findings.push(report("program-arc-form", data, placeOf(state)));
  } else {
    const { start, end, limit } = result;
    const data = { column: 1, start, end, limit };
    state.findings.push(report("program-arc-radius", data, placeOf(state)));
  }
  return "bad";
}
