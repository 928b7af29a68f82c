/**
 * Separation: pieces that overlap are moved, one at a time, until none does or patience ends.
 *
 * Every sweep moves each overlapping piece to its best place; then the weight of each pair that still overlaps
 * grows with its share, so that the search leaves low points of the sum that are not its zero, and the weights
 * of pairs that came apart sink back.
 *
 * Promise: the board ends in the state of least overlap that was seen.
 * Source: guided local search, Voudouris and Tsang, EJOR 113(2), 1999; for nesting, Egeblad, Nielsen and
 * Odgaard, EJOR 183(3), 2007, and Umetani et al., Int. Trans. Oper. Res. 16(6), 2009.
 */
import {
  type Board,
  measureAll,
  overlapOf,
  pushInside,
  restore,
  type Snapshot,
  snapshotOf,
  totalOverlap,
} from "./board.ts";
import { type Looks, relocate, type Seeker, seekerOf } from "./relocate.ts";

export interface Patience {
  readonly looks: Looks;
  /** Sweeps without a new least overlap before giving up. */
  readonly sweeps: number;
  /** True once the search must end, by steps or by the clock. */
  readonly over: () => boolean;
}

export interface Separated {
  readonly free: boolean;
  /** False where a piece is larger than every room: then nothing was tried. */
  readonly fits: boolean;
  readonly overlap: number;
}

/** What weights grow by for the deepest pair of a sweep, and shrink by for pairs apart. */
const GROWTH = 1.0;
const LEAST_GROWTH = 1.2;
const DECAY = 0.95;

export function separate(b: Board, patience: Patience): Separated {
  for (let i = 0; i < b.movable; i++) {
    if (!pushInside(b, i)) return { free: false, fits: false, overlap: Number.POSITIVE_INFINITY };
  }
  measureAll(b);
  b.weight.set(b.base);
  const seeker = seekerOf(b, patience.looks);
  const order = Array.from({ length: b.movable }, (_, i) => i);
  let least = totalOverlap(b);
  let best: Snapshot = snapshotOf(b);
  let idle = 0;
  while (least > 0 && idle < patience.sweeps && !patience.over()) {
    sweep(seeker, order, patience);
    const total = totalOverlap(b);
    if (total < least) {
      idle = total < 0.98 * least ? 0 : idle + 1;
      least = total;
      best = snapshotOf(b);
    } else idle++;
    reweigh(b);
  }
  restore(b, best);
  return { free: least === 0, fits: true, overlap: least };
}

function sweep(seeker: Seeker, order: number[], patience: Patience): void {
  const b = seeker.board;
  shuffle(order, b);
  for (const i of order) {
    if (overlapOf(b, i) === 0) continue;
    if (patience.over()) return;
    relocate(seeker, i, patience.looks);
  }
}

function shuffle(order: number[], b: Board): void {
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(b.random() * (i + 1));
    const held = order[i] as number;
    order[i] = order[j] as number;
    order[j] = held;
  }
}

function reweigh(b: Board): void {
  const { depth, base, weight, count } = b;
  let deepest = 0;
  for (let k = 0; k < depth.length; k++) deepest = Math.max(deepest, depth[k] as number);
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; j++) {
      const k = i * count + j;
      const d = depth[k] as number;
      const w = weight[k] as number;
      const next =
        d > 0
          ? w * (LEAST_GROWTH + (GROWTH * d) / deepest)
          : Math.max(base[k] as number, w * DECAY);
      weight[k] = next;
      weight[j * count + i] = next;
    }
  }
}
