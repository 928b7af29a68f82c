/**
 * The long axis of an outline: the direction of the least inertia of its area, as principal axes give it, and how far
 * the outline reaches along and across it. Exact for polygons of the flattened outline; arcs within 10 µm.
 */
import { centroid, flatten, oriented } from "../../geometry/contour.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { atan2, cos, sin } from "../../geometry/trig.ts";

export interface LongAxis {
  /** The ends of the axis within the outline's reach. */
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  readonly width: number;
  readonly angle: number;
}

const FACETS = 0.01;

export function longAxis(contour: Contour): LongAxis {
  const points = flatten(oriented(contour, true), FACETS);
  const o = centroid(contour);
  let [xx, yy, xy] = [0, 0, 0];
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length] as Point;
    const [ax, ay, bx, by] = [p.x - o.x, p.y - o.y, q.x - o.x, q.y - o.y];
    const cross = ax * by - bx * ay;
    xx += cross * (ax * ax + ax * bx + bx * bx);
    yy += cross * (ay * ay + ay * by + by * by);
    xy += (cross * (ax * by + 2 * ax * ay + 2 * bx * by + bx * ay)) / 2;
  });
  const angle = atan2(2 * xy, xx - yy) / 2;
  const [ux, uy] = [cos(angle), sin(angle)];
  const along = points.map((p) => (p.x - o.x) * ux + (p.y - o.y) * uy);
  const across = points.map((p) => (p.y - o.y) * ux - (p.x - o.x) * uy);
  const [low, high] = [Math.min(...along), Math.max(...along)];
  return {
    from: { x: o.x + low * ux, y: o.y + low * uy },
    to: { x: o.x + high * ux, y: o.y + high * uy },
    length: high - low,
    width: Math.max(...across) - Math.min(...across),
    angle,
  };
}
