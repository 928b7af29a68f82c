/**
 * Mirror lines of a plate, upright and level, told by its outline's vertices and holes.
 *
 * The line is found as a middle that most pairs agree on (the median of the middles of opposite ranks), so that one
 * vertex that is off does not move it.
 */
import { distance, pointAt } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import type { PlateView } from "../view.ts";

export interface Mirror {
  /** `X`: left and right are alike, about x = at. */
  readonly axis: "X" | "Y";
  readonly at: number;
  /** Vertices and hole middles that have no twin within `TWIN`. */
  readonly odd: readonly { readonly point: Point; readonly off: number }[];
  readonly points: number;
}

/** Twins are where they should be within this, mm. */
export const TWIN = 0.05;
/** Share of points that must have a twin for a plate to be meant symmetric. */
const MOST = 0.75;

export function mirrorAxes(p: PlateView): Mirror[] {
  const points = pointsOf(p);
  return (["X", "Y"] as const).flatMap((axis) => {
    const mirror = mirrorAbout(points, axis);
    return mirror.odd.length <= (1 - MOST) * points.length ? [mirror] : [];
  });
}

function pointsOf(p: PlateView): Point[] {
  const { segments } = p.plate.outer;
  const corners = segments.map((s) => s.from);
  const bows = segments.filter((s) => s.kind === "arc").map((s) => pointAt(s, 0.5));
  return [...corners, ...bows, ...p.openings.map((f) => f.at)];
}

function mirrorAbout(points: readonly Point[], axis: "X" | "Y"): Mirror {
  const at = agreed(points.map((q) => (axis === "X" ? q.x : q.y)));
  const twin = (q: Point): Point =>
    axis === "X" ? { x: 2 * at - q.x, y: q.y } : { x: q.x, y: 2 * at - q.y };
  const odd = points.flatMap((q) => {
    const t = twin(q);
    const off = points.reduce(
      (least, r) => Math.min(least, distance(r, t)),
      Number.POSITIVE_INFINITY,
    );
    return off > TWIN + 1e-6 ? [{ point: q, off }] : [];
  });
  return { axis, at, odd, points: points.length };
}

/** Median of the middles of the smallest and the largest, the next smallest and the next largest, and so on. */
function agreed(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.ceil(sorted.length / 2);
  const middles = sorted
    .slice(0, half)
    .map((v, i) => (v + (sorted[sorted.length - 1 - i] as number)) / 2)
    .sort((a, b) => a - b);
  return middles[middles.length >> 1] ?? 0;
}
