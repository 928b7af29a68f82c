/**
 * Which rails must be sorted out together? A *tangle* is a set of rails that hang together by crossings;
 * a rail that meets nothing, itself included, is alone and *plain*.
 *
 * Along a tangle the winding of all other rails is one number, its *base*, for none of them crosses it.
 * So each tangle can be clipped by itself, and a plate with one bad corner does not send all its
 * windows through Clipper. Cost: O(n) grid queries; O(n) winding for each pair of nested boxes.
 */
import { boundsOf, boxesTouch, isConvex, reversedContour, windingRound } from "../contour.ts";
import { coincide, meetings } from "../intersect.ts";
import { indexOf } from "../nearest.ts";
import { boxOf, distance, line, pointAt } from "../segment.ts";
import type { Box, Point, Segment } from "../shape.ts";
import { WELD } from "../tolerance.ts";
import type { Rail } from "./rail.ts";

export interface Tangle {
  readonly rails: readonly Rail[];
  /** True for a single rail that crosses nothing. */
  readonly plain: boolean;
  /** How often everything else winds round it. */
  readonly base: number;
}

interface Track {
  readonly rail: Rail;
  /** The rail's pieces and the lines over its via points. */
  readonly curves: readonly Segment[];
  readonly box: Box;
}

/** `ground` is the winding far away: 1 where material has no end. */
export function tanglesOf(rails: readonly Rail[], ground: number): Tangle[] {
  const tracks = rails.map(trackOf).filter((t) => t.curves.length > 0);
  const owner: number[] = tracks.flatMap((t, i) => t.curves.map(() => i));
  const roots = tracks.map((_, i) => i);
  const rootOf = (i: number): number => {
    let r = i;
    while (roots[r] !== r) r = roots[r] as number;
    roots[i] = r;
    return r;
  };
  const plain = tracks.map((t) => t.rail.via.every((v) => v.length === 0));
  const only = tracks.length === 1 ? tracks[0] : undefined;
  if (only !== undefined && plain[0] === true && bendsOneWay(only.curves)) {
    return [{ rails: [only.rail], plain: true, base: ground }];
  }
  const index = indexOf(tracks.flatMap((t) => t.curves));
  index.segments.forEach((a, i) => {
    for (const j of index.near(boxOf(a), WELD)) {
      if (j <= i) continue;
      const ra = rootOf(owner[i] as number);
      const rb = rootOf(owner[j] as number);
      if ((ra === rb && !plain[ra]) || !cross(a, index.segments[j] as Segment)) continue;
      roots[rb] = ra;
      plain[ra] = false;
    }
  });
  const groups = new Map<number, Track[]>();
  tracks.forEach((t, i) => {
    const root = rootOf(i);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [t]);
    else group.push(t);
  });
  return [...groups].map(([root, group]) => ({
    rails: group.map((t) => t.rail),
    plain: plain[root] === true,
    base: ground + baseOf(group, tracks),
  }));
}

/** A closed chain that only ever turns to one side, as the offset of a ring once round, cannot cross itself. */
function bendsOneWay(segments: readonly Segment[]): boolean {
  const chain = { segments };
  return isConvex(chain, STILL) || isConvex(reversedContour(chain), STILL);
}

/** Tangent neighbours turn by the rounding of their drawing, rad. */
const STILL = 1e-6;

function trackOf(rail: Rail): Track {
  const curves: Segment[] = [];
  const n = rail.pieces.length;
  rail.pieces.forEach((piece, k) => {
    curves.push(piece.trimmed);
    const next = rail.pieces[(k + 1) % n]?.trimmed.from ?? piece.trimmed.to;
    const via = rail.via[k] as readonly Point[];
    if (via.length > 0) addLines(curves, [piece.trimmed.to, ...via, next]);
  });
  if (n === 0) {
    const loop = rail.via[0] ?? [];
    addLines(curves, [...loop, ...loop.slice(0, 1)]);
  }
  return { rail, curves, box: boundsOf(curves) };
}

function addLines(curves: Segment[], path: readonly Point[]): void {
  for (let i = 1; i < path.length; i++) {
    const from = path[i - 1] as Point;
    const to = path[i] as Point;
    if (distance(from, to) > 0) curves.push(line(from, to));
  }
}

/** More in common than a weld? */
function cross(a: Segment, b: Segment): boolean {
  const found = meetings(a, b, WELD);
  if (found.length > 0) {
    const welds = [a.from, a.to].filter((p) => p === b.from || p === b.to);
    // Tangent neighbours meet twice within the root of rounding, some 1e-7 mm, beside their weld.
    if (found.some((m) => welds.every((w) => distance(w, m.point) > NEAR_WELD))) return true;
  }
  return coincide(a, b, WELD);
}

const NEAR_WELD = 1e-5;

function baseOf(group: readonly Track[], tracks: readonly Track[]): number {
  const p = pointAt((group[0] as Track).curves[0] as Segment, 0.5);
  const at: Box = { min: p, max: p };
  let sum = 0;
  for (const t of tracks) {
    if (!group.includes(t) && boxesTouch(t.box, at)) sum += windingRound(t.curves, p);
  }
  return sum;
}
