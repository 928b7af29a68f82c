/**
 * Which piece each possible place of a tab holds, where what comes loose falls into several: round each piece there must be
 * enough tabs, however they would be spread along the whole track.
 */
import { distanceTo } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import type { Need, Spot } from "./spread.ts";
import { CORNER_CLEAR } from "./stretch.ts";

/** The places that hold one piece. */
export interface Share {
  /** Told along the track round this piece alone. */
  readonly spots: readonly Spot[];
  /** Of that track, mm. */
  readonly length: number;
  /** Number of the piece. */
  readonly piece: number;
}

/** Spots in their order along the track. Less than two pieces are one. */
export function sharesOf(
  spots: readonly Spot[],
  length: number,
  pieces: readonly Contour[],
  need: Need,
): Share[] {
  if (pieces.length < 2) return [{ spots, length, piece: 0 }];
  const held = spots.map((spot) => nearestTo(spot, pieces));
  const runs = runsOf(spots, held, length);
  return pieces.map((_, piece) => {
    const own = runs.filter((run) => run.piece === piece);
    const kept: Spot[] = [];
    let before = 0;
    for (const run of own) {
      for (const spot of run.spots) {
        const s = spot.s - run.from;
        // Half of what two tabs keep between them, since the next piece's may stand as near to the border.
        const clear = spot.half + need.rise + CORNER_CLEAR / 2;
        if (run.endless || (s >= clear && run.length - s >= clear))
          kept.push({ ...spot, s: before + s });
      }
      before += run.length;
    }
    return { spots: kept, length: before, piece };
  });
}

function nearestTo({ at }: Spot, pieces: readonly Contour[]): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  pieces.forEach((piece, i) => {
    const d = distanceTo(piece, at);
    if (d >= least) return;
    least = d;
    best = i;
  });
  return best;
}

/** A stretch of the track whose places hold one piece; to the middle between its last place and the next piece's first. */
interface Run {
  readonly piece: number;
  readonly from: number;
  readonly length: number;
  /** From `from` on, so beyond the track's length where the track begins in the run. */
  readonly spots: readonly Spot[];
  /** All of the track. */
  readonly endless: boolean;
}

function runsOf(spots: readonly Spot[], held: readonly number[], length: number): Run[] {
  const n = spots.length;
  const firsts = held.flatMap((piece, i) => (piece === held[(i + n - 1) % n] ? [] : [i]));
  if (firsts.length === 0) {
    return n === 0 ? [] : [{ piece: held[0] as number, from: 0, length, spots, endless: true }];
  }
  /** Of a spot that may lie a whole turn further on or back. */
  const at = (i: number): number => (spots[(i + n) % n] as Spot).s + Math.floor(i / n) * length;
  return firsts.map((first, k) => {
    const next = k + 1 < firsts.length ? (firsts[k + 1] as number) : (firsts[0] as number) + n;
    const from = (at(first - 1) + at(first)) / 2;
    const own: Spot[] = [];
    for (let i = first; i < next; i++) own.push({ ...(spots[i % n] as Spot), s: at(i) });
    return {
      piece: held[first] as number,
      from,
      length: (at(next - 1) + at(next)) / 2 - from,
      spots: own,
      endless: false,
    };
  });
}
