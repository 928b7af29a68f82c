/** Polygons grown by a radius, against distances by brute force. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { Point } from "../../src/core/geometry/shape.ts";
import { contourOf, dilated } from "../../src/core/layout/offcut/dilate.ts";
import { ringArea } from "../../src/core/layout/search/contact/convex.ts";
import { inPolygon, points, polygonDistance } from "../layout/support.ts";

/** A star-shaped ring, corners at whole numbers. */
const star = fc
  .array(fc.integer({ min: 12, max: 40 }), { minLength: 3, maxLength: 10 })
  .map((radii) =>
    radii.flatMap((r, i) => {
      const a = (2 * Math.PI * i) / radii.length;
      return [Math.round(r * Math.cos(a)), Math.round(r * Math.sin(a))];
    }),
  )
  .filter((ring) => ringArea(ring) > 50);

it("covers every place within the radius, and none much further, hole or no hole", () => {
  const at = fc.tuple(fc.integer({ min: -60, max: 60 }), fc.integer({ min: -60, max: 60 }));
  const places = fc.array(at, { minLength: 30, maxLength: 30 });
  fc.assert(
    fc.property(star, fc.boolean(), places, fc.constantFrom(2, 5, 20), (outer, open, asked, r) => {
      const holes = open ? [[-2, -2, -2, 2, 2, 2, 2, -2]] : [];
      const grown = dilated(outer, holes, r).map(points);
      const [ring, ...windows] = [outer, ...holes].map((h) => points(contourOf(h))) as [Point[]];
      for (const [x, y] of asked) {
        const p = { x: x + 0.1, y: y + 0.2 };
        const inside = inPolygon(p, ring) && !windows.some((w: Point[]) => inPolygon(p, w));
        const off = inside
          ? 0
          : Math.min(...[ring, ...windows].map((w: Point[]) => polygonDistance([p, p, p], w)));
        const covered = grown.some((g) => inPolygon(p, g));
        if (off < r - 1e-6) expect(covered).toBe(true);
        if (off > 1.02 * r + 1e-6) expect(covered).toBe(false);
      }
    }),
    { numRuns: 60 },
  );
});
