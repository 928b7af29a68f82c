/**
 * Which piece is each edge of Clipper's result? An edge that begins or ends at a vertex of a rail takes
 * a piece that leaves or reaches it there, if the edge truly lies on that piece and runs its way; an
 * edge between two crossings asks a grid of all pieces. Neighbouring edges of one piece make a *run*.
 *
 * Cost: O(1) for an edge at a rail vertex, a grid query for the few others.
 */
import { fromUnits, type UnitFrame, type UnitPath, type UnitPoint } from "../clipper/clipper.ts";
import { directionAt, parameterOf } from "../intersect.ts";
import { indexOf, type SegmentIndex } from "../nearest.ts";
import { distance, lengthOf } from "../segment.ts";
import type { Point, Segment } from "../shape.ts";
import { ATTRIBUTION, FACET } from "../tolerance.ts";
import { type Facets, keyOf } from "./facets.ts";
import type { Piece } from "./rail.ts";

export interface Run {
  /** Number of the piece; −1 where none fits. */
  readonly piece: number;
  /** Vertices of the result from the run's first to its last, mm. */
  readonly points: Point[];
}

export interface Attribution {
  readonly pieces: readonly Piece[];
  readonly facets: Facets;
  readonly frame: UnitFrame;
  /** Made when first needed: most results never ask. */
  index: SegmentIndex | undefined;
}

/** Edges shorter than this many units have no direction to speak of: they go with their neighbour. */
const SHORT_EDGE = 6;

/** Runs of one result ring, cyclic: the first begins where the last ends. */
export function runsOf(a: Attribution, ring: UnitPath): Run[] {
  const clean = withoutShortEdges(ring);
  const runs: { piece: number; points: Point[] }[] = [];
  const n = clean.length;
  let previous = -1;
  for (let i = 0; i < n; i++) {
    const u = clean[i] as UnitPoint;
    const v = clean[(i + 1) % n] as UnitPoint;
    const piece = pieceOf(a, u, v, previous);
    const last = runs[runs.length - 1];
    const to = fromUnits(v, a.frame);
    if (last !== undefined && last.piece === piece) last.points.push(to);
    else runs.push({ piece, points: [fromUnits(u, a.frame), to] });
    previous = piece;
  }
  const first = runs[0];
  const last = runs[runs.length - 1];
  if (first !== undefined && last !== undefined && first !== last && first.piece === last.piece) {
    runs[0] = { piece: first.piece, points: [...last.points, ...first.points.slice(1)] };
    runs.pop();
  }
  return runs;
}

function withoutShortEdges(ring: UnitPath): UnitPath {
  const clean: UnitPath = [];
  for (const p of ring) {
    const last = clean[clean.length - 1];
    if (last === undefined || !isShort(last, p)) clean.push(p);
  }
  while (clean.length > 1 && isShort(clean[clean.length - 1] as UnitPoint, clean[0] as UnitPoint)) {
    clean.pop();
  }
  return clean;
}

function isShort(a: UnitPoint, b: UnitPoint): boolean {
  return Math.abs(a.X - b.X) < SHORT_EDGE && Math.abs(a.Y - b.Y) < SHORT_EDGE;
}

function pieceOf(a: Attribution, u: UnitPoint, v: UnitPoint, previous: number): number {
  const from = fromUnits(u, a.frame);
  const to = fromUnits(v, a.frame);
  const leaving = a.facets.leaving.get(keyOf(u)) ?? [];
  const arriving = a.facets.arriving.get(keyOf(v)) ?? [];
  // The rule on arcs, from one vertex of theirs to the next: nothing to weigh.
  if (leaving.length === 1 && arriving.length === 1 && previous === leaving[0]) {
    if (previous === arriving[0]) return previous;
  }
  const both = leaving.filter((k) => arriving.includes(k));
  const named =
    bestOf(a, both, from, to, FACET) ?? bestOf(a, [...leaving, ...arriving], from, to, FACET);
  if (named !== undefined) return named;
  a.index ??= indexOf(a.pieces.map((p) => p.exact));
  const box = {
    min: { x: Math.min(from.x, to.x), y: Math.min(from.y, to.y) },
    max: { x: Math.max(from.x, to.x), y: Math.max(from.y, to.y) },
  };
  return bestOf(a, a.index.near(box, ATTRIBUTION), from, to, ATTRIBUTION) ?? -1;
}

function bestOf(
  a: Attribution,
  pieces: readonly number[],
  from: Point,
  to: Point,
  within: number,
): number | undefined {
  let best: number | undefined;
  let least = within;
  for (const k of pieces) {
    const off = misfit((a.pieces[k] as Piece).exact, from, to);
    if (off >= least) continue;
    best = k;
    least = off;
  }
  return best;
}

/** How far both ends and the middle of an edge lie from a piece; infinite if it runs the other way. */
function misfit(s: Segment, from: Point, to: Point): number {
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const way = directionAt(s, middle);
  const along = (to.x - from.x) * way.x + (to.y - from.y) * way.y;
  if (along < 0.7 * distance(from, to)) return Number.POSITIVE_INFINITY;
  return Math.max(offPiece(s, from), offPiece(s, middle), offPiece(s, to));
}

function offPiece(s: Segment, p: Point): number {
  const t = parameterOf(s, p);
  const beyond = (t < 0 ? -t : t > 1 ? t - 1 : 0) * lengthOf(s);
  let aside: number;
  if (s.kind === "line") {
    const u = directionAt(s, p);
    aside = Math.abs((p.x - s.from.x) * u.y - (p.y - s.from.y) * u.x);
  } else {
    aside = Math.abs(distance(p, s.centre) - s.radius);
  }
  return Math.max(aside, beyond);
}
