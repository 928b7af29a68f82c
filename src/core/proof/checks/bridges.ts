/**
 * Bridges: how wide and how high the material at a tab really is.
 *
 * The kerf is narrowest for a bridge half way through, on the line that the cutter's centre would run
 * along: the ring set off by the radius, piece by piece, each in closed form. The bridge is the stretch
 * of that line, round the tab's place, that no stroke at the tab's level sweeps.
 */
import type { TargetTab } from "../proof.ts";
import { covered, type Stretch, uncovered } from "../removal/coverage.ts";
import {
  arcCurve,
  type Curve,
  directionAt,
  distanceToPoint,
  lineCurve,
  nearestT,
  xAt,
  yAt,
} from "../removal/curve.ts";
import type { Box } from "../removal/grid.ts";
import { inside, type Level, near } from "../removal/level.ts";
import { type Stroke, zAt } from "../removal/stroke.ts";
import type { Ring } from "../target.ts";

/** The curve at distance `by` on the free side (right of travel); undefined where an arc shrinks away. */
export function shifted(c: Curve, by: number): Curve | undefined {
  if (!c.isArc) {
    const [dx, dy] = directionAt(c, 0);
    return lineCurve(c.x0 + dy * by, c.y0 - dx * by, c.x1 + dy * by, c.y1 - dx * by);
  }
  const r = c.sweep > 0 ? c.r + by : c.r - by;
  if (r <= 0) return undefined;
  const k = r / c.r;
  const at = (x: number, y: number): [number, number] => [
    c.cx + (x - c.cx) * k,
    c.cy + (y - c.cy) * k,
  ];
  return arcCurve([...at(c.x0, c.y0), ...at(c.x1, c.y1)], c.cx, c.cy, r, c.sweep);
}

/** Length of the wall at a tab over that of the cutter's way beside it; no less than 1. */
export function wallOverWay(ring: Ring, tab: TargetTab, radius: number): number {
  const wall = nearestCurve(ring, tab);
  const way = shifted(wall, radius);
  return way === undefined ? 1 : Math.max(1, wall.length / way.length);
}

/** Width of the bridge at a tab, mm; 0 where the cutter went through. */
export function bridgeWidth(ring: Ring, tab: TargetTab, level: Level, radius: number): number {
  const at = ring.curves.indexOf(nearestCurve(ring, tab));
  const middle = shifted(ring.curves[at] as Curve, radius);
  if (middle === undefined) return 0;
  const t = nearestT(middle, tab.at.x, tab.at.y);
  const gap = gapsOf(middle, level).find((g) => holds(g, t));
  if (gap === undefined) return 0;
  const span: Span = { ring, level, radius, at, gap };
  const width = (gap.to - gap.from) * middle.length;
  return width + goesOn(span, 1) + goesOn(span, -1);
}

interface Span {
  readonly ring: Ring;
  readonly level: Level;
  readonly radius: number;
  /** The piece that the middle of the bridge is on, and the gap in it. */
  readonly at: number;
  readonly gap: Stretch;
}

const gapsOf = (c: Curve, level: Level): Stretch[] => uncovered(covered(c, near(level, c, 0), 0));

/** What a bridge goes on for over the neighbours of its piece; of a circle, over its own seam. */
function goesOn({ ring, level, radius, at, gap }: Span, step: 1 | -1): number {
  const n = ring.curves.length;
  let width = 0;
  let open = step > 0 ? gap.to >= 1 : gap.from <= 0;
  for (let k = 1; open && k <= n; k++) {
    const next = shifted(ring.curves[(at + step * k + n * k) % n] as Curve, radius);
    if (next === undefined) break;
    const gaps = gapsOf(next, level);
    const first = step > 0 ? gaps[0] : gaps[gaps.length - 1];
    if (first === undefined || (step > 0 ? first.from > 0 : first.to < 1)) break;
    // Round the whole ring and back in the gap that it began with.
    if (k === n && first.from <= gap.from && first.to >= gap.to) break;
    width += (first.to - first.from) * next.length;
    open = first.to - first.from >= 1;
  }
  return width;
}

const holds = (g: Stretch, t: number): boolean => g.from <= t && t <= g.to;

function nearestCurve(ring: Ring, tab: TargetTab): Curve {
  let best = ring.curves[0] as Curve;
  let least = Number.POSITIVE_INFINITY;
  for (const c of ring.curves) {
    const d = distanceToPoint(c, tab.at.x, tab.at.y);
    if (d < least) {
      least = d;
      best = c;
    }
  }
  return best;
}

export interface Height {
  readonly height: number;
  /** The stroke that bounds it. */
  readonly by: Stroke | undefined;
}

/** Where strokes lie that may bound the height of the bridge at a tab, with cutters of this radius at most. */
export function heightBox({ at, width }: TargetTab, widest: number): Box {
  const reach = width / 4 + 2 * widest;
  return [at.x - reach, at.y - reach, at.x + reach, at.y + reach];
}

/** Height of the bridge above the underside, least of three places over its middle half. */
export function bridgeHeight(ring: Ring, tab: TargetTab, level: Level, thickness: number): Height {
  const c = nearestCurve(ring, tab);
  const t = nearestT(c, tab.at.x, tab.at.y);
  const [dx, dy] = directionAt(c, t);
  let height = thickness;
  let by: Stroke | undefined;
  const strokes = inside(level, heightBox(tab, level.widest));
  for (const along of [-0.25, 0, 0.25]) {
    for (const s of strokes) {
      const x = xAt(c, t) + dx * along * tab.width + dy * s.radius;
      const y = yAt(c, t) + dy * along * tab.width - dx * s.radius;
      const top = lowestOver(s, x, y) + thickness;
      if (top >= height) continue;
      height = top;
      by = s;
    }
  }
  return { height: Math.max(0, height), by };
}

/** Nearer than this to a stroke's rim is looked at exactly, mm. */
const TOUCHING = 1e-6;

/** Lowest tip of a stroke while it sweeps a point; infinite where it does not. */
function lowestOver(s: Stroke, x: number, y: number): number {
  if (distanceToPoint(s.curve, x, y) > s.radius + TOUCHING) return Number.POSITIVE_INFINITY;
  let least = Number.POSITIVE_INFINITY;
  for (const part of covered(s.curve, [{ curve: lineCurve(x, y, x, y), radius: s.radius }], 0)) {
    least = Math.min(least, zAt(s, part.from), zAt(s, part.to));
  }
  return least;
}
