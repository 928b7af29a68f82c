/**
 * The same motion by another method: dense steps along the way.
 *
 * The path is cut into thousands of points. Each has a speed limit of its own (feed, axis rates by the
 * tangents tried one by one, centripetal limit, corner rule by angles). Speeds from which the machine can
 * still brake are integrated backwards from the end, then the motion forwards, step by step; time is the
 * sum of the steps. Nothing here knows a trapezoid, nor how long a block takes.
 */
import type { Machine } from "../../src/core/machine/machine.ts";
import type { TraceMove } from "../../src/core/program/read/trace.ts";

interface Sample {
  readonly s: number;
  readonly limit: number;
  readonly a: number;
}

export function simulate(moves: readonly TraceMove[], machine: Machine, grain = 0.002): number {
  const samples = sample(moves, machine, grain);
  // Speed from which braking is still possible, from the end backwards: v dv = a ds, midpoint in v.
  const brake = new Float64Array(samples.length);
  for (let i = samples.length - 2; i >= 0; i--) {
    const here = samples[i] as Sample;
    const next = samples[i + 1] as Sample;
    brake[i] = Math.min(here.limit, faster(brake[i + 1] as number, here.a, next.s - here.s));
  }
  let v = 0;
  let time = 0;
  for (let i = 0; i + 1 < samples.length; i++) {
    const here = samples[i] as Sample;
    const ds = (samples[i + 1] as Sample).s - here.s;
    const can = faster(v, here.a, ds);
    const next = Math.min(can, brake[i + 1] as number);
    time += ds / ((v + next) / 2);
    v = next;
  }
  return time;
}

/** dv/ds = a ÷ v at the mean speed of the step, by iteration. */
function faster(v0: number, a: number, ds: number): number {
  let v1 = v0 + Math.sqrt(a * ds);
  for (let k = 0; k < 30; k++) v1 = (v1 + v0 + (2 * a * ds) / (v0 + v1)) / 2;
  return v1;
}

function sample(moves: readonly TraceMove[], machine: Machine, grain: number): Sample[] {
  const samples: Sample[] = [];
  let s = 0;
  moves.forEach((move, m) => {
    const { length, limit, a } = numbers(move, machine);
    const n = Math.max(3000, Math.ceil(length / grain));
    const before = moves[m - 1];
    for (let k = 0; k < n; k++) {
      const corner = k === 0 ? (before === undefined ? 0 : corners(before, move, machine)) : limit;
      const previous = k === 0 && before !== undefined ? numbers(before, machine).limit : limit;
      samples.push({ s: s + (length * k) / n, limit: Math.min(limit, corner, previous), a });
    }
    s += length;
  });
  samples.push({ s, limit: 0, a: 1 });
  return samples;
}

/** Angle of the tangent in XY and the slope, at a share of the move. */
function tangent(move: TraceMove, share: number): readonly [number, number, number] {
  const dz = move.z1 - move.z0;
  if (move.arc === undefined) {
    const d = [move.x1 - move.x0, move.y1 - move.y0, dz] as const;
    const size = Math.hypot(...d);
    return [d[0] / size, d[1] / size, d[2] / size];
  }
  const { cx, cy, radius, sweep } = move.arc;
  const angle =
    Math.atan2(move.y0 - cy, move.x0 - cx) + sweep * share + (Math.sign(sweep) * Math.PI) / 2;
  const slope = Math.atan2(dz, Math.abs(sweep) * radius);
  return [Math.cos(angle) * Math.cos(slope), Math.sin(angle) * Math.cos(slope), Math.sin(slope)];
}

function numbers(move: TraceMove, machine: Machine): { length: number; limit: number; a: number } {
  const { arc } = move;
  const dz = move.z1 - move.z0;
  const length =
    arc === undefined
      ? Math.hypot(move.x1 - move.x0, move.y1 - move.y0, dz)
      : Math.hypot(arc.sweep * arc.radius, dz);
  let limit = move.kind === "rapid" ? Number.POSITIVE_INFINITY : move.feed / 60;
  let a = Number.POSITIVE_INFINITY;
  const steps = arc === undefined ? 1 : 4000;
  for (let k = 0; k <= steps; k++) {
    const u = tangent(move, k / steps);
    u.forEach((share, axis) => {
      a = Math.min(a, (machine.acceleration[axis] as number) / Math.abs(share));
      limit = Math.min(limit, (machine.maxFeed[axis] as number) / 60 / Math.abs(share));
    });
    if (arc === undefined) continue;
    // Towards the centre: v² cos²(slope) ÷ r, shared by X and Y as the normal lies.
    const flat2 = u[0] * u[0] + u[1] * u[1];
    const normal = [Math.abs(u[1]), Math.abs(u[0])];
    normal.forEach((share, axis) => {
      const most = (machine.acceleration[axis] as number) / (share / Math.sqrt(flat2));
      limit = Math.min(limit, Math.sqrt((most * arc.radius) / flat2));
    });
  }
  return { length, limit, a };
}

/** The corner rule by angles: θ between the moves, v = √(a R), R = δ sin(θ/2)/(1 − sin(θ/2)). */
function corners(before: TraceMove, now: TraceMove, machine: Machine): number {
  const u = tangent(before, 1);
  const w = tangent(now, 0);
  const dot = u[0] * w[0] + u[1] * w[1] + u[2] * w[2];
  const theta = Math.PI - Math.acos(Math.max(-1, Math.min(1, dot)));
  const half = Math.sin(theta / 2);
  if (half > 1 - 1e-12) return Number.POSITIVE_INFINITY;
  const n = [w[0] - u[0], w[1] - u[1], w[2] - u[2]];
  const size = Math.hypot(...n);
  const shares = n.map((x, axis) => ((machine.acceleration[axis] as number) * size) / Math.abs(x));
  const a = Math.min(Math.max(...machine.acceleration), ...shares);
  return Math.sqrt((a * machine.junctionDeviation * half) / (1 - half));
}
