/**
 * Speed along one block: the quickest way from entry speed to exit speed without passing the block's own.
 * mm, s, mm/s, mm/s², mm/s³.
 *
 * Without jerk: accelerate, hold, brake (trapezoid or triangle). With jerk: the same with S-shaped ends,
 * acceleration nought at both ends of the block (Biagiotti & Melchiorri, Trajectory Planning for Automatic
 * Machines and Robots, 2008, sec. 3.4).
 */
export interface Block {
  readonly length: number;
  /** Highest speed inside. */
  readonly speed: number;
  readonly acceleration: number;
}

/** Seconds; the entry and exit speeds must be reachable from one another within the length. */
export function trapezoidSeconds(block: Block, vIn: number, vOut: number): number {
  const { length, speed, acceleration: a } = block;
  const reach = (vIn * vIn + vOut * vOut) / 2 + a * length;
  if (reach <= speed * speed) {
    // max: rounding may leave the peak a hair below the faster end.
    const peak = Math.max(vIn, vOut, Math.sqrt(reach));
    return (2 * peak - vIn - vOut) / a;
  }
  const ramps = (speed * speed - (vIn * vIn + vOut * vOut) / 2) / a;
  return (2 * speed - vIn - vOut) / a + (length - ramps) / speed;
}

/** Seconds of an S-shaped change of speed by `dv`. */
export function changeSeconds(dv: number, a: number, jerk: number): number {
  return dv >= (a * a) / jerk ? dv / a + a / jerk : 2 * Math.sqrt(dv / jerk);
}

/** Way of an S-shaped change of speed; it is symmetrical, so its mean speed is that of the ends. */
export function changeLength(v0: number, v1: number, a: number, jerk: number): number {
  return ((v0 + v1) / 2) * changeSeconds(Math.abs(v1 - v0), a, jerk);
}

/** Halvings of a speed interval: 2⁻⁴⁰ of it is far below what a double can tell apart in seconds. */
const HALVINGS = 40;

/** Highest speed to which `v0` can be raised within `length`, no higher than `most`. */
export function reachWithJerk(v0: number, most: number, block: Block, jerk: number): number {
  const { acceleration: a, length } = block;
  if (most <= v0 || changeLength(v0, most, a, jerk) <= length) return Math.max(v0, most);
  return highest(v0, most, (v) => changeLength(v0, v, a, jerk) <= length);
}

export function jerkSeconds(block: Block, jerk: number, vIn: number, vOut: number): number {
  const { length, speed, acceleration: a } = block;
  const ways = (v: number): number =>
    changeLength(vIn, v, a, jerk) + changeLength(v, vOut, a, jerk);
  const low = Math.max(vIn, vOut);
  const peak = ways(speed) <= length ? speed : highest(low, speed, (v) => ways(v) <= length);
  const rest = Math.max(0, length - ways(peak));
  return (
    changeSeconds(peak - vIn, a, jerk) +
    changeSeconds(peak - vOut, a, jerk) +
    (peak > 0 ? rest / peak : 0)
  );
}

/** Where a predicate that holds at `low` stops holding, from below. */
function highest(low: number, high: number, holds: (v: number) => boolean): number {
  let from = low;
  let to = high;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (from + to) / 2;
    if (holds(middle)) from = middle;
    else to = middle;
  }
  return from;
}
