/**
 * Look-ahead planning: how fast each block is entered so that the machine can always brake in time.
 *
 * Backward pass v_in² ≤ v_out² + 2 a L, then forward, then each block's own profile. For blocks whose
 * speed and acceleration are constant this is the fastest motion there is. A controller sees only so many
 * blocks ahead: where a block begins it must be able to stop within those that it saw from the block before, which is
 * one more cap, v_in² ≤ 2 Σ a L.
 * Cost: linear in blocks; with jerk, whose reach has no closed form, about five times as much.
 */
import type { Blocks } from "./blocks.ts";
import { jerkSeconds, reachWithJerk } from "./profile.ts";

export interface PlannerOptions {
  /** Blocks that the controller sees ahead, the one in motion included. */
  readonly lookAhead: number;
  /** mm/s³; absent: none. */
  readonly jerk?: number | undefined;
}

/** Seconds of each block. */
export function plan(blocks: Blocks, options: PlannerOptions): Float64Array {
  const { jerk } = options;
  return jerk !== undefined && jerk > 0
    ? planWithJerk(blocks, windowed(blocks, options.lookAhead), jerk)
    : planSquares(blocks, windowed(blocks, options.lookAhead));
}

/** Squares of entry speeds, capped by what the window lets the machine stop from. */
function windowed(blocks: Blocks, lookAhead: number): Float64Array {
  const { count, entry, length, acceleration } = blocks;
  const caps = entry.slice(0, count + 1);
  // At the end of a block the next ones in the window are all that the plan may stand on.
  const seen = Math.max(1, Math.floor(lookAhead)) - 1;
  if (seen === 0) return caps.fill(0);
  if (seen >= count) return caps;
  let stopping = 0;
  for (let i = count - 1; i >= 0; i--) {
    stopping += 2 * (acceleration[i] as number) * (length[i] as number);
    const past = i + seen;
    if (past < count) stopping -= 2 * (acceleration[past] as number) * (length[past] as number);
    if ((caps[i] as number) > stopping) caps[i] = Math.max(0, stopping);
  }
  return caps;
}

/** The passes in squares of speeds: no roots until the end. */
function planSquares(blocks: Blocks, caps: Float64Array): Float64Array {
  const { count, length, speed, acceleration } = blocks;
  const seconds = new Float64Array(count);
  let out = 0;
  for (let i = count - 1; i >= 0; i--) {
    const can = out + 2 * (acceleration[i] as number) * (length[i] as number);
    out = Math.min(caps[i] as number, can);
    caps[i] = out;
  }
  let vIn = 0;
  let vIn2 = 0;
  for (let i = 0; i < count; i++) {
    const a = acceleration[i] as number;
    const l = length[i] as number;
    const v = speed[i] as number;
    const next2 = i + 1 < count ? Math.min(caps[i + 1] as number, vIn2 + 2 * a * l) : 0;
    const next = Math.sqrt(next2);
    const middle = (vIn2 + next2) / 2;
    // trapezoidSeconds of profile.ts, with the squares that are at hand.
    const peak2 = middle + a * l;
    if (peak2 <= v * v) {
      seconds[i] = (2 * Math.max(vIn, next, Math.sqrt(peak2)) - vIn - next) / a;
    } else {
      seconds[i] = (2 * v - vIn - next) / a + (l - (v * v - middle) / a) / v;
    }
    vIn = next;
    vIn2 = next2;
  }
  return seconds;
}

function planWithJerk(blocks: Blocks, caps: Float64Array, jerk: number): Float64Array {
  const { count, length, speed, acceleration } = blocks;
  const seconds = new Float64Array(count);
  const entry = new Float64Array(count + 1);
  const block = (i: number): { length: number; speed: number; acceleration: number } => ({
    length: length[i] as number,
    speed: speed[i] as number,
    acceleration: acceleration[i] as number,
  });
  for (let i = count - 1; i >= 0; i--) {
    const cap = Math.sqrt(caps[i] as number);
    // Braking is accelerating seen from behind.
    entry[i] = Math.min(cap, reachWithJerk(entry[i + 1] as number, cap, block(i), jerk));
  }
  for (let i = 0; i < count; i++) {
    const here = block(i);
    const vIn = entry[i] as number;
    const vOut = Math.min(
      entry[i + 1] as number,
      reachWithJerk(vIn, entry[i + 1] as number, here, jerk),
    );
    entry[i + 1] = vOut;
    seconds[i] = jerkSeconds(here, jerk, vIn, vOut);
  }
  return seconds;
}
