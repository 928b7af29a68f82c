import fc from "fast-check";
import { expect, test } from "vitest";
import { crossesItself } from "../../src/core/airframe/audit.ts";
import { common, joined, less } from "../../src/core/airframe/shape/boolean.ts";
import { disc, hullOf, roundedBox, strip } from "../../src/core/airframe/shape/build.ts";
import { eased, filled } from "../../src/core/airframe/shape/round.ts";
import { distanceTo, signedArea } from "../../src/core/geometry/contour.ts";
import { areaOf, union } from "../../src/core/geometry/region.ts";
import { pointAt } from "../../src/core/geometry/segment.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";

const mm = (lo: number, hi: number) =>
  fc.integer({ min: Math.round(lo * 10), max: Math.round(hi * 10) }).map((v) => v / 10);
const point = fc.record({ x: mm(-20, 20), y: mm(-20, 20) });

const shape: fc.Arbitrary<Contour> = fc.oneof(
  fc.tuple(point, mm(2, 15)).map(([p, r]) => disc(p, r)),
  fc
    .tuple(point, mm(2, 30), mm(2, 30), mm(0, 6))
    .map(([p, w, h, r]) => roundedBox(p, { x: p.x + w, y: p.y + h }, r)),
  fc
    .tuple(fc.array(point, { minLength: 1, maxLength: 6 }), mm(1, 6))
    .map(([ps, r]) => hullOf(ps, r)),
  fc
    .tuple(point, point, mm(1, 6), mm(1, 6))
    .filter(([a, b]) => Math.hypot(a.x - b.x, a.y - b.y) > 1)
    .map(([a, b, p, q]) => strip(a, b, p, q)),
);

const area = (rings: readonly Contour[]): number => rings.reduce((s, r) => s + signedArea(r), 0);

test("areas of union, intersection and difference add up, for shapes on one grid that touch as they like", () => {
  fc.assert(
    fc.property(shape, shape, (a, b) => {
      const u = joined([a], [b]);
      const i = common([a], [b]);
      const d = less([a], [b]);
      expect(u, "union closes").toBeDefined();
      expect(i, "intersection closes").toBeDefined();
      expect(d, "difference closes").toBeDefined();
      const [A, B] = [signedArea(a), signedArea(b)];
      expect(area(u ?? [])).toBeCloseTo(A + B - area(i ?? []), 3);
      expect(area(d ?? [])).toBeCloseTo(A - area(i ?? []), 3);
    }),
  );
});

test("a union agrees with the polygon union, and lies on its operands' own curves", () => {
  fc.assert(
    fc.property(shape, shape, (a, b) => {
      const u = joined([a], [b]) ?? [];
      // Facets of 0.5 µm leave out at most that along the perimeter.
      expect(Math.abs(area(u) - areaOf(union([a], [b], 0.0005)))).toBeLessThan(0.2);
      for (const s of u.flatMap((r) => r.segments)) {
        const p = pointAt(s, 0.37);
        expect(Math.min(distanceTo(a, p), distanceTo(b, p))).toBeLessThan(1e-4);
      }
    }),
    { numRuns: 60 },
  );
});

test("filling inside corners only adds, easing outside corners only takes away, and neither crosses itself", () => {
  fc.assert(
    fc.property(shape, shape, mm(0.5, 5), (a, b, r) => {
      const u = joined([a], [b]) ?? [];
      if (u.length !== 1) return;
      const more = filled(u, r);
      const fewer = eased(u, r);
      expect(area(more)).toBeGreaterThan(area(u) - 1e-2);
      expect(area(fewer)).toBeLessThan(area(u) + 1e-2);
      for (const c of [...more, ...fewer]) expect(crossesItself(c)).toBe(false);
    }),
    { numRuns: 40 },
  );
});

test("shapes that share an edge become one without a seam", () => {
  const a = roundedBox({ x: 0, y: 0 }, { x: 10, y: 10 }, 0);
  const b = roundedBox({ x: 10, y: 0 }, { x: 25, y: 10 }, 0);
  const u = joined([a], [b]) ?? [];
  expect(u).toHaveLength(1);
  expect(area(u)).toBeCloseTo(250, 9);
});
