/** Arcs as chords, for controllers without G2 and G3, and for what no rounding can write as an arc. */
import { chords } from "../../geometry/contour.ts";
import { angleOf, distance, onCircle } from "../../geometry/segment.ts";
import type { CutMove } from "../../toolpath/cut.ts";
import type { Place } from "./merge.ts";

/** Chords stray from their arc by no more than this, mm. */
export const CHORD: number = 0.002;

/** The move's chords from where it begins; a straight move as it is. */
export function chordsOf(from: Place, m: CutMove): readonly CutMove[] {
  if (m.arc === undefined) return [m];
  const { centre, sweep } = m.arc;
  const radius = distance(centre, m.to);
  const n = chords(radius, sweep, CHORD);
  const a0 = angleOf(centre, m.to) - sweep;
  return Array.from({ length: n }, (_, i) => {
    const t = (i + 1) / n;
    const to = i === n - 1 ? m.to : onCircle(centre, radius, a0 + sweep * t);
    return { to, z: from.z + (m.z - from.z) * t, feed: m.feed };
  });
}

export function inChords(start: Place, moves: readonly CutMove[]): CutMove[] {
  return moves.flatMap((m, i) => chordsOf(moves[i - 1] ?? start, m));
}
