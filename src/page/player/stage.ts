/**
 * A sheet with the programs that cut it, in their order, and where the cutter is at any moment. Moments are counted in
 * steps of all of the sheet's programs: 12.25 is a quarter of the way through the thirteenth.
 */

import { decodeMotion, type Motion } from "../../core/jobsheet/motion/decode.ts";
import type {
  PlayerData,
  PlayerProgram,
  PlayerSheet,
} from "../../core/jobsheet/motion/player-data.ts";

export interface Take {
  readonly program: PlayerProgram;
  readonly motion: Motion;
  /** Steps of the programs before it on this sheet. */
  readonly first: number;
}

export interface Stage {
  readonly sheet: PlayerSheet;
  readonly takes: readonly Take[];
}

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export function stageOf(data: PlayerData, sheet: number): Stage | undefined {
  const own = data.sheets[sheet];
  if (own === undefined) return undefined;
  const takes: Take[] = [];
  let first = 0;
  for (const program of data.programs) {
    if (program.sheet !== sheet) continue;
    const motion = decodeMotion(program.motion);
    takes.push({ program, motion, first });
    first += motion.count;
  }
  return { sheet: own, takes };
}

/** Of arrays as long as the motion: what stands there, or nought beside it. */
export function at(values: ArrayLike<number>, i: number): number {
  return values[i] ?? 0;
}

/** Program coordinates; `share` is how far through the step, by its time. */
export function placeAt(m: Motion, i: number, share: number): Place {
  const z = at(m.z0, i) + (at(m.z1, i) - at(m.z0, i)) * share;
  const sweep = at(m.sweep, i);
  if (share >= 1 || sweep === 0) {
    return {
      x: at(m.x0, i) + (at(m.x1, i) - at(m.x0, i)) * share,
      y: at(m.y0, i) + (at(m.y1, i) - at(m.y0, i)) * share,
      z,
    };
  }
  const { radius, from } = arcOf(m, i);
  const angle = from + sweep * share;
  return {
    x: at(m.cx, i) + radius * Math.cos(angle),
    y: at(m.cy, i) + radius * Math.sin(angle),
    z,
  };
}

/** Radius, and the direction of its start from its centre. */
export function arcOf(m: Motion, i: number): { radius: number; from: number } {
  const dx = at(m.x0, i) - at(m.cx, i);
  const dy = at(m.y0, i) - at(m.cy, i);
  return { radius: Math.hypot(dx, dy), from: Math.atan2(dy, dx) };
}

/** mm along the step. */
export function lengthOf(m: Motion, i: number): number {
  const dz = at(m.z1, i) - at(m.z0, i);
  const sweep = at(m.sweep, i);
  if (sweep !== 0) return Math.hypot(arcOf(m, i).radius * sweep, dz);
  return Math.hypot(at(m.x1, i) - at(m.x0, i), at(m.y1, i) - at(m.y0, i), dz);
}

export function startOf(m: Motion, i: number): number {
  return i > 0 ? at(m.end, i - 1) : 0;
}

export function secondsAt(m: Motion, i: number, share: number): number {
  const start = startOf(m, i);
  return start + (at(m.end, i) - start) * share;
}

/** The step that is under way at a time, and how far. */
export function momentAt(m: Motion, seconds: number): { step: number; share: number } {
  if (!(seconds > 0)) return { step: 0, share: 0 };
  const step = firstFrom(m.end, m.count, seconds);
  const start = startOf(m, step);
  const takes = at(m.end, step) - start;
  return { step, share: takes > 0 ? Math.min(1, (seconds - start) / takes) : 1 };
}

/** The last step of a line; of a line that makes the machine do nothing, the last before it. */
export function stepOfLine(m: Motion, line: number): number {
  return Math.max(0, firstFrom(m.line, m.count + 1, line + 1) - 1);
}

/** Index of the first value that is no less; at most `count` − 1. The values rise. */
function firstFrom(values: ArrayLike<number>, count: number, value: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((values[middle] ?? Number.POSITIVE_INFINITY) < value) low = middle + 1;
    else high = middle;
  }
  return Math.max(0, low);
}
