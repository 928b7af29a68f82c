/** Exact distances against chords and brute force. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { polygon, rectangle } from "../../src/core/geometry/contour.ts";
import { arc, circle, line, onCircle } from "../../src/core/geometry/segment.ts";
import type { Segment } from "../../src/core/geometry/shape.ts";
import {
  apart,
  boxed,
  curveDistance,
  segmentDistance,
  shifted,
} from "../../src/core/layout/clearance.ts";
import { demoPlate, ORACLE_TOLERANCE, points, polygonDistance } from "./support.ts";

const coordinate = fc.integer({ min: -20000, max: 20000 }).map((i) => i / 1000);
const point = fc.record({ x: coordinate, y: coordinate });
const segment: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(point, point).map(([a, b]) => line(a, b)),
  fc
    .record({
      centre: point,
      radius: fc.integer({ min: 500, max: 12000 }).map((i) => i / 1000),
      from: fc.integer({ min: 0, max: 628 }).map((i) => i / 100),
      to: fc.integer({ min: 0, max: 628 }).map((i) => i / 100),
      ccw: fc.boolean(),
    })
    .map((a) =>
      arc(
        onCircle(a.centre, a.radius, a.from),
        onCircle(a.centre, a.radius, a.to),
        a.centre,
        a.ccw,
      ),
    ),
);

/** An open chain of chords as a closed sliver, so that the contour oracle takes it. */
function chain(s: Segment): { x: number; y: number }[] {
  const there = points({ segments: [s] });
  const on = [...there, s.to];
  return [...on, ...on.slice(1, -1).reverse()];
}

describe("distance between segments", () => {
  it("is that of their chords", () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        const exact = segmentDistance(a, b);
        const chords = polygonDistance(chain(a), chain(b));
        expect(Math.abs(exact - chords)).toBeLessThan(2 * ORACLE_TOLERANCE + 1e-9);
      }),
    );
  });

  it("is the same either way round", () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        expect(segmentDistance(a, b)).toBeCloseTo(segmentDistance(b, a), 9);
      }),
    );
  });

  it.each([
    // By hand: a circle of radius 3 at (0, 0) and one of 2 at (9, 0).
    [
      "circles beside each other",
      circle({ x: 0, y: 0 }, 3, true),
      circle({ x: 9, y: 0 }, 2, true),
      4,
    ],
    ["circle in circle", circle({ x: 0, y: 0 }, 10, true), circle({ x: 2, y: 0 }, 3, true), 5],
    ["line past circle", line({ x: -9, y: 7 }, { x: 9, y: 7 }), circle({ x: 0, y: 0 }, 3, true), 4],
    [
      "line inside circle",
      line({ x: -1, y: 1 }, { x: 1, y: 1 }),
      circle({ x: 0, y: 0 }, 3, true),
      3 - Math.SQRT2,
    ],
  ])("%s", (_, a, b, distance) => {
    expect(segmentDistance(a, b)).toBeCloseTo(distance, 12);
  });
});

describe("shapes apart", () => {
  const arm = boxed(demoPlate("arm").outer);

  it("a shape inside another is not apart from it", () => {
    const big = boxed(rectangle(-500, -500, 500, 500));
    expect(apart(big, arm, 6)).toBe(false);
    expect(apart(arm, big, 6)).toBe(false);
  });

  it("agrees with brute force as one arm passes another", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1500, max: 1500 }),
        fc.integer({ min: -400, max: 400 }),
        (x, y) => {
          const other = shifted(arm, x / 10, y / 10);
          const brute = polygonDistance(points(arm.contour), points(other.contour));
          const exact = curveDistance(arm, other, 1000);
          expect(Math.abs(exact - brute)).toBeLessThan(2 * ORACLE_TOLERANCE);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("gap counts to the last digit", () => {
    const a = boxed(
      polygon([
        { x: 0, y: 0 },
        { x: 10, y: 0 },
        { x: 0, y: 10 },
      ]),
    );
    expect(apart(a, shifted(a, 16, 0), 6)).toBe(true);
    expect(apart(a, shifted(a, 15.999, 0), 6)).toBe(false);
  });
});
