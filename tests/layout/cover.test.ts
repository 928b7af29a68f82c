/** Polygons of few corners that cover a contour, against chords of it. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  placeContour,
  polygon,
  rectangle,
  reversedContour,
} from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { circle } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { coverOf } from "../../src/core/layout/cover.ts";
import { demoPlate, inPolygon, ORACLE_TOLERANCE, points, polygonDistance } from "./support.ts";

const tenths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 10, max: max * 10 }).map((i) => i / 10);

/** A ragged ring, corners rounded outside and in by offsets. */
const ragged: fc.Arbitrary<Contour> = fc
  .tuple(fc.array(tenths(12, 40), { minLength: 5, maxLength: 12 }), tenths(0.2, 4))
  .map(([radii, r]) => {
    const ring = polygon(
      radii.map((away, i) => {
        const a = (2 * Math.PI * i) / radii.length;
        return { x: away * Math.cos(a), y: away * Math.sin(a) };
      }),
    );
    const [grown] = offsetRings([ring], r);
    return offsetRings([grown as Contour], -r / 2)[0] as Contour;
  });

const plates = ["arm", "bottom-plate", "top-plate", "camera-side"] as const;

const contour: fc.Arbitrary<Contour> = fc.oneof(
  ragged,
  fc.constantFrom(...plates).map((name) => demoPlate(name).outer),
  tenths(0.1, 30).map((r) => ({ segments: [circle({ x: 3, y: -2 }, r, true)] })),
  fc.tuple(tenths(1, 50), tenths(1, 50)).map(([w, h]) => rectangle(0, 0, w, h)),
);

const turned = fc
  .tuple(contour, tenths(0, 6))
  .map(([c, angle]): Contour => placeContour(c, { x: 0, y: 0, angle, flipped: false }));

function corners(ring: readonly number[]): Point[] {
  return Array.from({ length: ring.length / 2 }, (_, i) => ({
    x: ring[2 * i] as number,
    y: ring[2 * i + 1] as number,
  }));
}

/** Corners, and points along the sides. */
function along(ring: readonly Point[]): Point[] {
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length] as Point;
    return [0, 0.25, 0.5, 0.75].map((t) => ({
      x: p.x + t * (q.x - p.x),
      y: p.y + t * (q.y - p.y),
    }));
  });
}

const off = (p: Point, ring: readonly Point[]): number => polygonDistance([p, p, p], ring);

describe("a cover", () => {
  it("holds the contour, and strays no further than asked", () => {
    fc.assert(
      fc.property(turned, fc.constantFrom(0.05, 0.2, 0.6), (c, within) => {
        const ring = corners(coverOf(c, within));
        const exact = points(c);
        for (const p of exact) expect(inPolygon(p, ring) || off(p, ring) < 1e-6).toBe(true);
        for (const p of along(ring)) {
          if (!inPolygon(p, exact)) expect(off(p, exact)).toBeLessThan(within + ORACLE_TOLERANCE);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("of a hole lies in the hole", () => {
    fc.assert(
      fc.property(turned, (c) => {
        const ring = corners(coverOf(reversedContour(c), 0.2));
        const exact = points(c);
        for (const p of along(ring)) {
          expect(inPolygon(p, exact) || off(p, exact) < ORACLE_TOLERANCE).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("does not cross itself", () => {
    fc.assert(
      fc.property(turned, fc.constantFrom(0.2, 0.6), (c, within) => {
        const ring = corners(coverOf(c, within, 2 * within));
        const n = ring.length;
        for (let i = 0; i < n; i++) {
          for (let j = i + 2; j < n; j++) {
            if (i === 0 && j === n - 1) continue;
            const [a, b] = [ring[i], ring[(i + 1) % n]] as [Point, Point];
            const [p, q] = [ring[j], ring[(j + 1) % n]] as [Point, Point];
            expect(polygonDistance([a, b, b], [p, q, q])).toBeGreaterThan(0);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it("fills a bay as deep as asked, and no deeper one", () => {
    const bay = (deep: number): Contour =>
      polygon([
        { x: 0, y: 0 },
        { x: 60, y: 0 },
        { x: 60, y: 30 },
        { x: 40, y: 30 },
        { x: 30, y: 30 - deep },
        { x: 20, y: 30 },
        { x: 0, y: 30 },
      ]);
    expect(coverOf(bay(0.49), 0.1, 0.5).length / 2).toBe(4);
    expect(coverOf(bay(0.51), 0.1, 0.5).length / 2).toBe(7);
  });

  it("is the contour itself where that has few corners", () => {
    expect(coverOf(rectangle(1, 2, 30, 40), 0.2)).toEqual([1, 2, 30, 2, 30, 40, 1, 40]);
  });
});
