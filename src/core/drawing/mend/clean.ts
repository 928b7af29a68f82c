/**
 * Pieces without specks: segments shorter than SPECK are dropped and their neighbours take over their ends;
 * pieces without any size, or out of all reach, are dropped whole and counted.
 */
import { distance, isFullCircle, lengthOf } from "../../geometry/segment.ts";
import type { Point, Segment } from "../../geometry/shape.ts";
import { JOIN, SPECK } from "../../geometry/tolerance.ts";
import { withEnds } from "./ends.ts";
import { count, type Piece, type Tally } from "./piece.ts";

/** 1 km: beyond any plate, by a wide margin for shifted origins; numbers keep 0.1 nm there. */
const REACH = 1e6;

export interface Cleaned {
  readonly pieces: readonly Piece[];
  /** Short segments dropped out of longer pieces. */
  readonly specks: number;
}

export function clean(pieces: readonly Piece[], tally: Tally): Cleaned {
  const kept: Piece[] = [];
  let specks = 0;
  for (const p of pieces) {
    const type = p.origin.entity?.split(" ")[0] ?? "";
    if (!inReach(p.segments)) {
      count(tally, type, p.layer, "out of reach");
      continue;
    }
    const segments = withoutSpecks(p.segments);
    specks += segments.length === 0 ? 0 : p.segments.length - segments.length;
    if (segments.length === 0) count(tally, type, p.layer, "no size");
    else kept.push(closedUp({ ...p, segments }));
  }
  return { pieces: kept, specks };
}

function inReach(segments: readonly Segment[]): boolean {
  return segments.every((s) => {
    // Comparisons that fail for what is no number, too.
    const ends = [s.from.x, s.from.y, s.to.x, s.to.y].every((v) => Math.abs(v) < REACH);
    if (!ends || s.kind === "line") return ends;
    return Math.max(Math.abs(s.centre.x), Math.abs(s.centre.y)) + s.radius < 2 * REACH;
  });
}

function withoutSpecks(segments: readonly Segment[]): Segment[] {
  const out: Segment[] = [];
  let at: Point | undefined;
  for (const s of segments) {
    const from = at !== undefined && distance(at, s.from) < JOIN ? at : s.from;
    if (lengthOf(s) < SPECK) {
      at = from;
      continue;
    }
    out.push(from === s.from ? s : withEnds(s, from, s.to));
    at = s.to;
  }
  return out;
}

/** A piece whose ends coincide is a loop, whatever its flags say. */
function closedUp(p: Piece): Piece {
  const first = p.segments[0] as Segment;
  const last = p.segments[p.segments.length - 1] as Segment;
  if (p.segments.length === 1) return { ...p, closed: isFullCircle(first) };
  const gap = distance(last.to, first.from);
  if (gap > JOIN) return p.closed ? { ...p, closed: false } : p;
  const segments = [...p.segments];
  segments[segments.length - 1] = withEnds(last, last.from, first.from);
  return { ...p, segments, closed: true };
}
