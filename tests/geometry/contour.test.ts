import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  centroid,
  contains,
  distanceTo,
  flatten,
  perimeter,
  placeContour,
  rectangle,
  runningLengths,
  signedArea,
  spotAt,
  startedAt,
} from "../../src/core/geometry/contour.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";

const at = (x: number, y: number): Point => ({ x, y });

/** A keyhole: a circle of more than a half turn on a bar, as a motor pad on an arm. */
function keyhole(radius: number, half: number, length: number): Contour {
  const reach = Math.sqrt(radius * radius - half * half);
  return {
    segments: [
      line(at(-length, -half), at(-reach, -half)),
      arc(at(-reach, -half), at(-reach, half), at(0, 0), true),
      line(at(-reach, half), at(-length, half)),
      line(at(-length, half), at(-length, -half)),
    ],
  };
}

const shape = fc
  .record({
    radius: fc.integer({ min: 20, max: 200 }),
    half: fc.integer({ min: 1, max: 19 }),
    length: fc.integer({ min: 201, max: 900 }),
    turn: fc.integer({ min: 0, max: 3600 }),
    flipped: fc.boolean(),
  })
  .map(({ radius, half, length, turn, flipped }) =>
    placeContour(keyhole(radius / 10, half / 10, length / 10), {
      x: 7,
      y: -3,
      angle: (turn * Math.PI) / 1800,
      flipped,
    }),
  );

describe("contours with arcs", () => {
  // The even-odd rule over many short chords is the textbook oracle (Shimrat, CACM 5(8) 1962, Algorithm 112).
  test("contains agrees with a polygon of fine chords away from the edge", () => {
    fc.assert(
      fc.property(shape, fc.integer(), fc.integer(), (contour, px, py) => {
        const p = at((px % 1200) / 10, (py % 1200) / 10);
        fc.pre(distanceTo(contour, p) > 0.01);
        const ring = flatten(contour, 0.001);
        let inside = false;
        for (const [i, a] of ring.entries()) {
          const b = ring[(i + 1) % ring.length] as Point;
          if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) {
            inside = !inside;
          }
        }
        expect(contains(contour, p)).toBe(inside);
        // Equal, but no point the same object as another.
        expect(contains(JSON.parse(JSON.stringify(contour)), p)).toBe(inside);
      }),
    );
  });

  test("area and centroid of a half disc are the closed formulas", () => {
    const r = 7.5;
    const half: Contour = {
      segments: [
        line(at(r, 0), at(r, 0)),
        arc(at(r, 0), at(-r, 0), at(0, 0), true),
        line(at(-r, 0), at(r, 0)),
      ],
    };
    expect(signedArea(half)).toBeCloseTo((Math.PI * r * r) / 2, 10);
    expect(centroid(half).x).toBeCloseTo(0, 10);
    expect(centroid(half).y).toBeCloseTo((4 * r) / (3 * Math.PI), 10);
  });

  test("area does not change with the start, the frame or a flip", () => {
    fc.assert(
      fc.property(shape, fc.integer({ min: 0, max: 1000 }), (contour, s) => {
        const begun = startedAt(contour, (perimeter(contour) * s) / 1000);
        expect(signedArea(begun)).toBeCloseTo(signedArea(contour), 7);
        expect(perimeter(begun)).toBeCloseTo(perimeter(contour), 7);
        const ends = begun.segments;
        ends.forEach((seg, i) => {
          const next = ends[(i + 1) % ends.length];
          expect(next?.from).toEqual(seg.to);
        });
      }),
    );
  });

  test("a spot lies on the contour, at its length along it", () => {
    const box = rectangle(0, 0, 10, 5);
    expect(spotAt(box, runningLengths(box), 12).point).toEqual(at(10, 2));
    const ring: Contour = { segments: [circle(at(0, 0), 2, true)] };
    const spot = spotAt(ring, runningLengths(ring), Math.PI);
    expect(spot.point.x).toBeCloseTo(0, 12);
    expect(spot.point.y).toBeCloseTo(2, 12);
  });
});
