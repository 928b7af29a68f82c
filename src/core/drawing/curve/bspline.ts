/**
 * Rational B-splines: points and directions by de Boor's algorithm in homogeneous coordinates (C. de Boor,
 * "On calculating with B-splines", J. Approx. Theory 6 (1972) 50–62; rational form: L. Piegl, W. Tiller,
 * "The NURBS Book", 1997, ch. 4).
 *
 * Word: a *span* is a stretch between two different neighbouring knots; within one the curve is smooth.
 * Cost: O(degree²) a point.
 */
import type { Point } from "../../geometry/shape.ts";
import { hypot } from "../../geometry/trig.ts";
import type { SplineStroke } from "./stroke.ts";

export interface Span {
  /** Index of the knot that the span begins at. */
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

export function spansOf(s: SplineStroke): Span[] {
  const spans: Span[] = [];
  for (let i = s.degree; i < s.points.length; i++) {
    const from = s.knots[i] as number;
    const to = s.knots[i + 1] as number;
    if (to > from) spans.push({ index: i, from, to });
  }
  return spans;
}

export interface Sample {
  readonly point: Point;
  /** Unit vector; zero where the curve stands still. */
  readonly tangent: Point;
}

type Homogeneous = [number, number, number];

export function sampleSpline(s: SplineStroke, span: Span, t: number): Sample {
  const p = s.degree;
  const d: Homogeneous[] = [];
  for (let j = 0; j <= p; j++) {
    const i = span.index - p + j;
    const w = s.weights[i] ?? 1;
    const c = s.points[i] as Point;
    d.push([c.x * w, c.y * w, w]);
  }
  let before: readonly [Homogeneous, Homogeneous] = [d[0] as Homogeneous, d[p] as Homogeneous];
  for (let r = 1; r <= p; r++) {
    if (r === p) before = [d[p - 1] as Homogeneous, d[p] as Homogeneous];
    for (let j = p; j >= r; j--) {
      const lo = s.knots[span.index - p + j] as number;
      const hi = s.knots[span.index + 1 + j - r] as number;
      const a = hi > lo ? (t - lo) / (hi - lo) : 0;
      d[j] = mix(d[j - 1] as Homogeneous, d[j] as Homogeneous, a);
    }
  }
  const [x, y, w] = d[p] as Homogeneous;
  const point = { x: x / w, y: y / w };
  const [u, v] = before;
  const dw = v[2] - u[2];
  // Quotient rule; the common factor degree ÷ span does not matter for a direction.
  const dx = v[0] - u[0] - point.x * dw;
  const dy = v[1] - u[1] - point.y * dw;
  const length = hypot(dx, dy);
  return { point, tangent: length > 1e-12 ? { x: dx / length, y: dy / length } : { x: 0, y: 0 } };
}

function mix(a: Homogeneous, b: Homogeneous, t: number): Homogeneous {
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
}
