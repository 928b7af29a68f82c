/**
 * The other end of `encode.ts`: steps of a program as arrays, one for each quantity, that a player can search and draw
 * from. mm, mm/min, rpm, s, rad.
 */
import { atan2, TAU } from "../../geometry/trig.ts";
import { EVENTS, FLAG, KIND, PER_FEED, PER_MM, PER_SECOND } from "./encode.ts";
import { type NumberReader, takeCount, takeSigned } from "./vlq.ts";

export interface Motion {
  readonly count: number;
  /** One of `KIND`. */
  readonly kind: Uint8Array;
  /** Index into `EVENTS`. */
  readonly event: Uint8Array;
  readonly line: Int32Array;
  readonly x0: Float64Array;
  readonly y0: Float64Array;
  readonly z0: Float64Array;
  readonly x1: Float64Array;
  readonly y1: Float64Array;
  readonly z1: Float64Array;
  readonly cx: Float64Array;
  readonly cy: Float64Array;
  /** 0: a straight move. */
  readonly sweep: Float64Array;
  readonly feed: Float64Array;
  readonly rpm: Float64Array;
  /** From the program's start to the end of the step. */
  readonly end: Float64Array;
  /** 1: where it starts is not known in X or Y. */
  readonly unknown: Uint8Array;
}

export function decodeMotion(text: string): Motion {
  const from: NumberReader = { text, at: 0 };
  // No step takes less than two characters.
  const count = Math.min(takeCount(from), text.length);
  const motion = emptyMotion(count);
  const at = { line: 0, feed: 0, rpm: 0, ticks: 0, x: 0, y: 0, z: 0 };
  for (let i = 0; i < count; i++) {
    const flags = takeCount(from);
    const kind = flags & 3;
    at.line += flags & FLAG.line ? takeSigned(from) : 1;
    motion.kind[i] = kind;
    motion.line[i] = at.line;
    if (flags & FLAG.start) {
      at.x += takeSigned(from);
      at.y += takeSigned(from);
      at.z += takeSigned(from);
    }
    motion.x0[i] = at.x / PER_MM;
    motion.y0[i] = at.y / PER_MM;
    motion.z0[i] = at.z / PER_MM;
    if (kind === KIND.rapid || kind === KIND.feed) takeMove(motion, i, from, { flags, at });
    if (flags & FLAG.feed) at.feed = takeCount(from);
    if (flags & FLAG.rpm) at.rpm = takeCount(from);
    if (kind === KIND.event) motion.event[i] = Math.min(takeCount(from), EVENTS.length - 1);
    at.ticks += takeCount(from);
    motion.x1[i] = at.x / PER_MM;
    motion.y1[i] = at.y / PER_MM;
    motion.z1[i] = at.z / PER_MM;
    motion.feed[i] = kind === KIND.feed ? at.feed / PER_FEED : 0;
    motion.rpm[i] = at.rpm;
    motion.end[i] = at.ticks / PER_SECOND;
    motion.unknown[i] = flags & FLAG.unknown ? 1 : 0;
  }
  return motion;
}

function emptyMotion(count: number): Motion {
  const numbers = (): Float64Array => new Float64Array(count);
  return {
    count,
    kind: new Uint8Array(count),
    event: new Uint8Array(count),
    line: new Int32Array(count),
    x0: numbers(),
    y0: numbers(),
    z0: numbers(),
    x1: numbers(),
    y1: numbers(),
    z1: numbers(),
    cx: numbers(),
    cy: numbers(),
    sweep: numbers(),
    feed: numbers(),
    rpm: numbers(),
    end: numbers(),
    unknown: new Uint8Array(count),
  };
}

interface Place {
  x: number;
  y: number;
  z: number;
}

function takeMove(
  motion: Motion,
  i: number,
  from: NumberReader,
  { flags, at }: { flags: number; at: Place },
): void {
  const { x, y } = at;
  at.x += takeSigned(from);
  at.y += takeSigned(from);
  if (flags & FLAG.z) at.z += takeSigned(from);
  if ((flags & FLAG.arc) === 0) return;
  const i0 = takeSigned(from);
  const j0 = takeSigned(from);
  motion.cx[i] = (x + i0) / PER_MM;
  motion.cy[i] = (y + j0) / PER_MM;
  motion.sweep[i] = sweepOf(-i0, -j0, at.x - x - i0, at.y - y - j0, flags);
}

/**
 * From the start's to the end's direction as seen from the centre. Ends that are nearly one point, or opposite, are told
 * apart by whether they are more than half a turn apart.
 */
function sweepOf(ax: number, ay: number, bx: number, by: number, flags: number): number {
  const turn = atan2(ax * by - ay * bx, ax * bx + ay * by);
  const size = flags & FLAG.ccw ? turn : -turn;
  const large = (flags & FLAG.large) !== 0;
  const whole = size < (large ? Math.PI / 2 : -Math.PI / 2) ? size + TAU : Math.max(size, 0);
  return flags & FLAG.ccw ? whole : -whole;
}
