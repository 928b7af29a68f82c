/**
 * What a hole in a plate is: a round hole, a slot, or a window; or a recess, where its layer says so.
 */
import { centroid, isCircle, signedArea } from "../geometry/contour.ts";
import { distance, lengthOf } from "../geometry/segment.ts";
import type { Arc, Contour, Line, Point, Segment } from "../geometry/shape.ts";
import { atan2, TAU } from "../geometry/trig.ts";
import type { Feature } from "./plate.ts";

/** Half circles and parallel sides within this, mm: three decimals, and the grid. */
const SHAPE = 0.002;

export function featureOf(id: number, contour: Contour, depth: number | undefined): Feature {
  const area = Math.abs(signedArea(contour));
  if (depth !== undefined) {
    return { id, kind: "recess", contour, at: centroid(contour), depth, area };
  }
  if (isCircle(contour)) {
    const c = contour.segments[0] as Arc;
    return { id, kind: "hole", contour, at: c.centre, diameter: 2 * c.radius, area };
  }
  const slot = slotOf(contour);
  if (slot !== undefined) return { id, kind: "slot", contour, area, ...slot };
  return { id, kind: "window", contour, at: centroid(contour), area };
}

interface Slot {
  readonly at: Point;
  readonly width: number;
  readonly length: number;
  readonly angle: number;
}

/** Two lines and two half circles in turn, the lines tangent to both. */
export function slotOf(contour: Contour): Slot | undefined {
  const s = contour.segments;
  if (s.length !== 4) return undefined;
  const k = s[0]?.kind === "arc" ? 0 : 1;
  const [a, l, b, m] = [0, 1, 2, 3].map((i) => s[(i + k) % 4] as Segment) as [
    Segment,
    Segment,
    Segment,
    Segment,
  ];
  if (a.kind !== "arc" || b.kind !== "arc" || l.kind !== "line" || m.kind !== "line")
    return undefined;
  if (!isHalf(a) || !isHalf(b) || a.sweep > 0 !== b.sweep > 0) return undefined;
  if (Math.abs(a.radius - b.radius) > SHAPE || Math.abs(lengthOf(l) - lengthOf(m)) > SHAPE)
    return undefined;
  if (!bulgesOut(contour, a)) return undefined;
  const between = distance(a.centre, b.centre);
  if (!along(l, a.centre, b.centre, between) || between < SHAPE) return undefined;
  const width = a.radius + b.radius;
  const turn = atan2(b.centre.y - a.centre.y, b.centre.x - a.centre.x);
  const half = ((turn % (TAU / 2)) + TAU / 2) % (TAU / 2);
  return {
    at: { x: (a.centre.x + b.centre.x) / 2, y: (a.centre.y + b.centre.y) / 2 },
    width,
    length: between + width,
    // A direction a hair below π is that of 0.
    angle: TAU / 2 - half < 1e-9 ? 0 : half,
  };
}

function isHalf(a: Arc): boolean {
  return Math.abs(Math.abs(a.sweep) - TAU / 2) * a.radius <= SHAPE;
}

/** The half circle adds to the area between the sides. */
function bulgesOut(contour: Contour, a: Arc): boolean {
  return a.sweep > 0 === signedArea(contour) > 0;
}

function along(l: Line, a: Point, b: Point, between: number): boolean {
  const dx = l.to.x - l.from.x;
  const dy = l.to.y - l.from.y;
  const d = Math.sqrt(dx * dx + dy * dy);
  const cross = dx * (b.y - a.y) - dy * (b.x - a.x);
  return Math.abs(cross) <= SHAPE * d && Math.abs(d - between) <= SHAPE;
}
