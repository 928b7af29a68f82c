/**
 * The blocks of a program as a planner wants them: one array for each quantity, so that a million blocks
 * stay quick. mm, s.
 *
 * A block is a move of the trace that has a length; an axis whose start is not known counts as standing. Its speed is the least of: its feed (rapids: none),
 * each axis's rate over its share of the direction, √(a r)/horizontal share on arcs, and length × block
 * rate. Its acceleration is the least of each axis's over its share. On an arc the share is the largest
 * that the tangent takes on along it; the centripetal limit uses the same for the normal.
 *
 * Entry cap of a block: the junction rule (S. Jeon, 2011): with θ the angle between the blocks, 180° when
 * straight, R = δ sin(θ/2)/(1 − sin(θ/2)), v² = a R. The acceleration of a corner is the least of each
 * axis's over its share of the change of direction, but no more than the strongest axis has.
 */
import { hypot } from "../geometry/trig.ts";
import type { Machine } from "../machine/machine.ts";
import type { Trace, TraceArc, TraceMove } from "../program/read/trace.ts";

export interface Blocks {
  readonly count: number;
  /** Index of the trace step of each block. */
  readonly step: Int32Array;
  readonly length: Float64Array;
  readonly speed: Float64Array;
  readonly acceleration: Float64Array;
  /** Square of the highest speed at its beginning; 0 where the machine stands. */
  readonly entry: Float64Array;
  /** Moves that could not be timed: no feed, or no number. */
  readonly untimed: readonly TraceMove[];
}

/** Below this there is no motion, mm: a tenth of the finest decimal that programs have. */
const NO_LENGTH = 1e-6;

/** Sine of half the angle between blocks from which on they count as straight. */
const STRAIGHT = 1 - 1e-12;

interface Ends {
  /** Directions at the beginning and at the end. */
  ax: number;
  ay: number;
  az: number;
  bx: number;
  by: number;
  bz: number;
  /** Largest shares of X, Y, Z in the direction along the move. */
  sx: number;
  sy: number;
  sz: number;
  length: number;
}

export function blocksOf(trace: Trace, machine: Machine): Blocks {
  const n = trace.steps.length;
  const step = new Int32Array(n);
  const length = new Float64Array(n);
  const speed = new Float64Array(n);
  const acceleration = new Float64Array(n);
  const entry = new Float64Array(n);
  const untimed: TraceMove[] = [];
  let now = newEnds();
  let before = newEnds();
  let count = 0;
  let standing = true;
  for (let i = 0; i < n; i++) {
    const move = trace.steps[i] as Trace["steps"][number];
    if (move.kind !== "rapid" && move.kind !== "feed") {
      standing = true;
      continue;
    }
    measure(move, now);
    if (now.length < NO_LENGTH) continue;
    const v = speedOf(move, now, machine);
    const a = leastOver(machine.acceleration, now.sx, now.sy, now.sz);
    if (!(v > 0 && a > 0 && now.length < Number.POSITIVE_INFINITY)) {
      untimed.push(move);
      standing = true;
      continue;
    }
    step[count] = i;
    length[count] = now.length;
    speed[count] = v;
    acceleration[count] = a;
    if (!standing) {
      const least = Math.min(v, speed[count - 1] as number);
      const corner = cornerSpeed2(before, now, machine);
      // An arc whose ends are not on it has no direction there.
      entry[count] = corner >= 0 ? Math.min(least * least, corner) : 0;
    }
    // The next one is written over the one before the last.
    const last = before;
    before = now;
    now = last;
    standing = false;
    count++;
  }
  return { count, step, length, speed, acceleration, entry, untimed };
}

function newEnds(): Ends {
  return { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0, sx: 0, sy: 0, sz: 0, length: 0 };
}

/** Fills `out`; a move without a finite length gives NaN there, which no comparison lets through. */
function measure(move: TraceMove, out: Ends): void {
  const dz = move.z1 - move.z0;
  if (move.arc !== undefined && move.arc.radius > NO_LENGTH) {
    measureArc(move, move.arc, dz, out);
    return;
  }
  const dx = move.x1 - move.x0;
  const dy = move.y1 - move.y0;
  const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
  out.length = length;
  out.ax = out.bx = dx / length;
  out.ay = out.by = dy / length;
  out.az = out.bz = dz / length;
  out.sx = Math.abs(out.ax);
  out.sy = Math.abs(out.ay);
  out.sz = Math.abs(out.az);
}

function measureArc(move: TraceMove, arc: TraceArc, dz: number, out: Ends): void {
  const along = Math.abs(arc.sweep) * arc.radius;
  const length = hypot(along, dz);
  const flat = along / length;
  const turn = (Math.sign(arc.sweep) * flat) / arc.radius;
  out.length = length;
  out.ax = -(move.y0 - arc.cy) * turn;
  out.ay = (move.x0 - arc.cx) * turn;
  out.bx = -(move.y1 - arc.cy) * turn;
  out.by = (move.x1 - arc.cx) * turn;
  out.az = out.bz = dz / length;
  out.sz = Math.abs(out.az);
  const half = Math.abs(arc.sweep) >= Math.PI;
  // Within half a turn the tangent lies along X once at most: where its Y part changes sign.
  out.sx = half || out.ay * out.by <= 0 ? flat : Math.max(Math.abs(out.ax), Math.abs(out.bx));
  out.sy = half || out.ax * out.bx <= 0 ? flat : Math.max(Math.abs(out.ay), Math.abs(out.by));
}

/** min over the axes of limit ÷ share. */
function leastOver(
  limit: readonly [number, number, number],
  x: number,
  y: number,
  z: number,
): number {
  return Math.min(limit[0] / x, limit[1] / y, limit[2] / z);
}

/** mm/s. */
function speedOf(move: TraceMove, ends: Ends, machine: Machine): number {
  const most = machine.maxFeed;
  let v = leastOver(most, ends.sx, ends.sy, ends.sz) / 60;
  if (move.kind === "feed") v = Math.min(v, move.feed / 60);
  if (machine.blocksPerSecond > 0) v = Math.min(v, ends.length * machine.blocksPerSecond);
  if (move.arc === undefined) return v;
  const flat = Math.sqrt(Math.max(0, 1 - ends.sz * ends.sz));
  if (flat <= 0) return v;
  // The normal's X share is the tangent's Y share, and the other way round.
  const a = Math.min(
    machine.acceleration[0] / (ends.sy / flat),
    machine.acceleration[1] / (ends.sx / flat),
  );
  return Math.min(v, Math.sqrt(a * move.arc.radius) / flat);
}

/** Square of the speed at which the corner between two blocks is taken. */
function cornerSpeed2(before: Ends, now: Ends, machine: Machine): number {
  const dot = before.bx * now.ax + before.by * now.ay + before.bz * now.az;
  const half = Math.sqrt(Math.max(0, (1 + dot) / 2));
  if (half >= STRAIGHT) return Number.POSITIVE_INFINITY;
  const nx = now.ax - before.bx;
  const ny = now.ay - before.by;
  const nz = now.az - before.bz;
  const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const most = machine.acceleration;
  const share = leastOver(most, Math.abs(nx) / size, Math.abs(ny) / size, Math.abs(nz) / size);
  const a = Math.min(share, Math.max(most[0], most[1], most[2]));
  return (a * machine.junctionDeviation * half) / (1 - half);
}
