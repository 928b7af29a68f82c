/**
 * Exact offsets: rings of lines and arcs moved sideways by a distance, arcs kept as arcs.
 *
 * Rings have material on their left: outers counter-clockwise, holes clockwise; holes without
 * an outer lie in endless material. A positive distance grows the material, a negative one shrinks it. Every result segment is the parallel of one source
 * segment, or the arc round one convex corner, and carries the `origin` of that segment (a corner's arc:
 * of the segment before the corner).
 *
 * Promise: every point of the result is |distance| from the source within 2 µm; no facets; contours
 * closed to the bit; nothing shorter than `SHORTEST`. A corner so slight that its arc would bulge less
 * than `SLIGHT` past the mitre is mitred. Where the result touches itself (a neck exactly as wide as
 * twice the distance) it may come as one ring or as two.
 * Wants: rings that do not cross one another or themselves.
 * Cost: O(n log n) where pieces do not cross; else Clipper on facets, some µs each.
 */
import {
  clipUnits,
  toUnits,
  type UnitFrame,
  type UnitPath,
  unitArea,
  unitFrame,
} from "./clipper/clipper.ts";
import { bounds, boundsOf, perimeter, signedArea } from "./contour.ts";
import { type SegmentIndex, segmentIndex } from "./nearest.ts";
import { type Attribution, type Run, runsOf } from "./offsetting/attribute.ts";
import { facetsOf } from "./offsetting/facets.ts";
import { type Piece, type Rail, railOf } from "./offsetting/rail.ts";
import { type Rejoined, rejoin } from "./offsetting/rejoin.ts";
import { type Tangle, tanglesOf } from "./offsetting/tangle.ts";
import { tidyRing } from "./offsetting/tidy.ts";
import { lengthOf, line, pointAt } from "./segment.ts";
import type { Box, Contour, Segment } from "./shape.ts";
import { FACET, SHORTEST, WELD } from "./tolerance.ts";

export interface OffsetReport {
  readonly rings: Contour[];
  /** Segments that stayed Clipper's lines because no source explains them: 0 but in odd cases. */
  readonly kept: number;
  /** True where pieces crossed and Clipper had to sort them out. */
  readonly clipped: boolean;
  /** The furthest that a sampled point is from |distance| to the source, mm. */
  readonly worst: number;
}

/** The offset of a region given by its rings; see the head of this file. */
export function offsetRings(rings: readonly Contour[], distance: number): Contour[] {
  return offsetWithReport(rings, distance).rings;
}

/** The same, and how it was come by. */
export function offsetWithReport(rings: readonly Contour[], d: number): OffsetReport {
  const tidy = rings.map(tidyRing).filter((r) => r !== undefined);
  if (tidy.length === 0 || !Number.isFinite(d)) return NOTHING;
  if (Math.abs(d) <= WELD) return { ...NOTHING, rings: tidy };
  const source = segmentIndex(tidy);
  const cut = assemble(tidy, source, d, true);
  if (cut.worst <= TOLERANCE) return cut;
  const whole = assemble(tidy, source, d, false);
  return whole.worst < cut.worst ? whole : cut;
}

const NOTHING: OffsetReport = { rings: [], kept: 0, clipped: false, worst: 0 };

/** What a result may stray from |distance|. */
const TOLERANCE = 0.002;

function assemble(
  tidy: readonly Contour[],
  source: SegmentIndex,
  d: number,
  trim: boolean,
): OffsetReport {
  const rails = tidy.map((r) => railOf(r, d, trim));
  const tangles = tanglesOf(rails, isEndless(tidy) ? 1 : 0);
  const rings: Contour[] = [];
  let kept = 0;
  let clipped = false;
  for (const tangle of tangles) {
    const plain = tangle.plain ? plainRing(tangle) : undefined;
    if (plain !== undefined) {
      if (isOutermost(tangle, plain) && !isSliver(plain)) rings.push(plain);
      continue;
    }
    clipped = true;
    for (const { contour, kept: lines } of clippedRings(tangle, d, trim ? undefined : source)) {
      rings.push(contour);
      kept += lines;
    }
  }
  const worst = Math.max(0, ...rings.map((r) => straying(r, source, d)));
  return { rings, kept, clipped, worst };
}

/** Is the outermost ring a hole, so that material goes on without end? */
function isEndless(rings: readonly Contour[]): boolean {
  let left = Number.POSITIVE_INFINITY;
  let outermost: Contour | undefined;
  for (const r of rings) {
    const x = bounds(r).min.x;
    if (x >= left) continue;
    left = x;
    outermost = r;
  }
  return outermost !== undefined && signedArea(outermost) < 0;
}

/** A plain rail is its own result, if nothing of it is too short. */
function plainRing(tangle: Tangle): Contour | undefined {
  const segments = (tangle.rails[0] as Rail).pieces.map((p) => p.trimmed);
  return segments.every((s) => lengthOf(s) >= SHORTEST) ? { segments } : undefined;
}

/** Material on the left and none on the right: else the ring lies wholly within reach of another. */
function isOutermost(tangle: Tangle, ring: Contour): boolean {
  const left = tangle.base + (signedArea(ring) > 0 ? 1 : 0);
  return left === 1;
}

function isSliver(contour: Contour): boolean {
  return Math.abs(signedArea(contour)) < FACET * perimeter(contour);
}

/** What Clipper makes of a tangle, as exact segments again; with a `source`, as lines where they stray from it. */
function clippedRings(tangle: Tangle, d: number, source?: SegmentIndex): Rejoined[] {
  const pieces: Piece[] = tangle.rails.flatMap((r) => r.pieces);
  const ends = tangle.rails.flatMap((r) => r.via.flat());
  const box = boundsOf([...pieces.map((p) => p.trimmed), ...ends.map((p) => line(p, p))]);
  const frame = unitFrame(box, 2 * FRAME);
  const facets = facetsOf(tangle.rails, frame, FACET / 2);
  const state: Attribution = { pieces, facets, frame, index: undefined };
  const around = frameRings(box, frame, tangle.base);
  const edge = around[0]?.[0]?.X;
  const rings: Rejoined[] = [];
  for (const path of clipUnits("union", [...facets.paths, ...around], [])) {
    if (isThin(path, frame.perMm) || path.some((p) => p.X === edge)) continue;
    const runs = runsOf(state, path);
    const joined = rejoin(runs, pieces, d);
    if (joined === undefined) continue;
    rings.push(source === undefined ? joined : held(joined, runs, pieces, source, d));
  }
  return rings;
}

/** Gives up the pieces that stray, and keeps Clipper's lines in their place; at the worst all round. */
function held(
  joined: Rejoined,
  runs: readonly Run[],
  pieces: readonly Piece[],
  source: SegmentIndex,
  d: number,
): Rejoined {
  const strays = joined.contour.segments.map((s) => strayingOf(s, source, d) > TOLERANCE);
  if (!strays.includes(true)) return joined;
  const wrong = new Set(joined.from.filter((_, i) => strays[i]));
  const without = (drop: (piece: number) => boolean): Rejoined | undefined =>
    rejoin(
      runs.map((r) => (drop(r.piece) ? { ...r, piece: -1 } : r)),
      pieces,
      d,
    );
  const some = without((k) => wrong.has(k));
  if (some !== undefined && straying(some.contour, source, d) <= TOLERANCE) return some;
  return without(() => true) ?? joined;
}

/** How far outside its tangle a frame ring runs, mm. */
const FRAME = 1;

/** Boxes that wind round the tangle as often as the rails that are left out. */
function frameRings(box: Box, frame: UnitFrame, base: number): UnitPath[] {
  const x0 = box.min.x - FRAME;
  const y0 = box.min.y - FRAME;
  const x1 = box.max.x + FRAME;
  const y1 = box.max.y + FRAME;
  const corners = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ].map((p) => toUnits(p, frame));
  const ring = base > 0 ? corners : corners.reverse();
  return Array.from({ length: Math.abs(base) }, () => ring);
}

function isThin(path: UnitPath, perMm: number): boolean {
  let around = 0;
  let p = path[path.length - 1];
  for (const q of path) {
    if (p !== undefined) around += Math.abs(p.X - q.X) + Math.abs(p.Y - q.Y);
    p = q;
  }
  return Math.abs(unitArea(path)) < (FACET * perMm * around) / 1.27;
}

function straying(contour: Contour, source: SegmentIndex, d: number): number {
  return Math.max(0, ...contour.segments.map((s) => strayingOf(s, source, d)));
}

/** The furthest that start, middle and on long segments quarters are from |d| to the source. */
function strayingOf(s: Segment, source: SegmentIndex, d: number): number {
  const want = Math.abs(d);
  const steps = lengthOf(s) > want ? 4 : 2;
  let worst = 0;
  for (let i = 0; i < steps; i++) {
    worst = Math.max(worst, Math.abs(source.distance(pointAt(s, i / steps), want + 1) - want));
  }
  return worst;
}
