/**
 * Pieces: what a reader of any format hands to the mending. A piece is one entity: segments in mm, each
 * ending where the next begins, or nearly; `closed` where the entity is a loop by itself.
 */
import type { Finding } from "../../finding/finding.ts";
import type { Origin, Segment } from "../../geometry/shape.ts";
import type { Ignored } from "../drawing.ts";

export interface Piece {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly layer: string;
  readonly origin: Origin;
  /** A spline or an ellipse that became arcs. */
  readonly fitted: boolean;
}

export interface Pieces {
  readonly pieces: readonly Piece[];
  readonly ignored: readonly Ignored[];
  readonly repairs: readonly Finding[];
  readonly findings: readonly Finding[];
}

/** More pieces than this is no plate, but a block that inserts itself a thousandfold. */
export const PIECES_MOST = 200_000;

/** Counts of what is left out, by type, layer and reason. */
export type Tally = Map<string, { type: string; layer: string; why: string; count: number }>;

export function count(tally: Tally, type: string, layer: string, why: string): void {
  const key = `${type}\n${layer}\n${why}`;
  const known = tally.get(key);
  if (known === undefined) tally.set(key, { type, layer, why, count: 1 });
  else known.count++;
}

export function listed(tally: Tally): Ignored[] {
  return [...tally.values()];
}
