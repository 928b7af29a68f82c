/**
 * A routed program as the moves of a trace, before anything is written: for what must be known by then, such as
 * where a cutter wears out, and for comparing cutters. Z is 0 at the sheet's top; nothing is rounded.
 */
import type { Point } from "../geometry/shape.ts";
import { hypot } from "../geometry/trig.ts";
import type { TraceMove } from "../program/read/trace.ts";
import { type Cut, type CutMove, type CutProgram, feedLength } from "../toolpath/cut.ts";

interface At {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export interface RoutedFrame {
  /** Program X0 Y0 in the sheet frame. */
  readonly zero: Point;
  /** Height of rapids. */
  readonly clearance: number;
}

/** The moves of each plate block. */
export function routedMoves(
  program: CutProgram,
  frame: RoutedFrame,
): readonly (readonly TraceMove[])[] {
  let at: At | undefined;
  let line = 0;
  return program.blocks.map(({ cuts }) => {
    const moves: TraceMove[] = [];
    const go = (to: At, cut?: CutMove): void => {
      line++;
      if (at !== undefined)
        moves.push(moveOf({ at, to, line, rpm: program.rates.rpm }, cut, frame));
      at = to;
    };
    for (const cut of cuts) {
      for (const to of approach(cut, at, frame)) go(to);
      for (const move of cut.moves) go({ ...shifted(move.to, frame), z: move.z }, move);
    }
    return moves;
  });
}

/**
 * Way of the centre at feed, every pass counted, mm. Of the moves as routed: what a program's decimals do to its arcs
 * depends on how the plate lies, and this does not.
 */
export function feedWay({ blocks }: CutProgram): number {
  let way = 0;
  for (const { cuts } of blocks) for (const cut of cuts) way += feedLength(cut);
  return way;
}

/** Up, across, down to just above the sheet. */
function approach(cut: Cut, at: At | undefined, frame: RoutedFrame): At[] {
  const start = shifted(cut.start, frame);
  const z = at === undefined ? frame.clearance : (cut.linkZ ?? frame.clearance);
  const up = at === undefined ? [] : [{ x: at.x, y: at.y, z }];
  return [...up, { ...start, z }, { ...start, z: cut.startZ }];
}

function shifted(p: Point, { zero }: RoutedFrame): Point {
  return { x: p.x - zero.x, y: p.y - zero.y };
}

interface Leg {
  readonly at: At;
  readonly to: At;
  readonly line: number;
  readonly rpm: number;
}

function moveOf(
  { at, to, line, rpm }: Leg,
  cut: CutMove | undefined,
  frame: RoutedFrame,
): TraceMove {
  const centre = cut?.arc === undefined ? undefined : shifted(cut.arc.centre, frame);
  return {
    kind: cut === undefined ? "rapid" : "feed",
    line,
    x0: at.x,
    y0: at.y,
    z0: at.z,
    x1: to.x,
    y1: to.y,
    z1: to.z,
    arc:
      centre === undefined
        ? undefined
        : {
            cx: centre.x,
            cy: centre.y,
            radius: hypot(at.x - centre.x, at.y - centre.y),
            sweep: cut?.arc?.sweep ?? 0,
          },
    feed: cut?.feed ?? 0,
    rpm,
    startKnown: true,
  };
}
