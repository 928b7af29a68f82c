/** Set operations against formulas and against each other; nesting against what the corpus was built as. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { polygon, rectangle, reversedContour } from "../../src/core/geometry/contour.ts";
import {
  areaOf,
  difference,
  intersect,
  ringsNested,
  union,
} from "../../src/core/geometry/region.ts";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { circle } from "../../src/core/geometry/segment.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import { plate, points, sample, shifted } from "./corpus.ts";

const seeds = fc.integer({ min: 0, max: 1e6 });
const disc = (x: number, y: number, r: number): Contour => ({
  segments: [circle({ x, y }, r, true)],
});

describe("sets", () => {
  test("two boxes", () => {
    const a = [rectangle(0, 0, 10, 10)];
    const b = [rectangle(5, 5, 15, 15)];
    expect(areaOf(intersect(a, b))).toBeCloseTo(25, 9);
    expect(areaOf(union(a, b))).toBeCloseTo(175, 9);
    expect(areaOf(difference(a, b))).toBeCloseTo(75, 9);
    expect(difference(a, [rectangle(-1, -1, 11, 11)])).toEqual([]);
    expect(union([], [])).toEqual([]);
  });

  test("two discs: lens formula, within the chords' error", () => {
    const lens = 2 * 25 * Math.acos(0.6) - 3 * 8;
    const facet = 0.0005;
    const found = areaOf(intersect([disc(0, 0, 5)], [disc(6, 0, 5)], facet));
    expect(found).toBeLessThan(lens);
    // Chords take two thirds of their bow off along the lens's edge of 18.6 mm.
    expect(found).toBeGreaterThan(lens - facet * 18.6);
  });

  test("|A ∪ B| + |A ∩ B| = |A| + |B|, and A less B is A less their common part", () => {
    fc.assert(
      fc.property(seeds, seeds, fc.integer({ min: -20, max: 20 }), (s, t, dx) => {
        const a = sample(s - (s % 8)).rings;
        const b = sample(t - (t % 8) + 1).rings.map((r) => shifted(r, dx, dx / 2));
        const both = areaOf(intersect(a, b, 0.01));
        const whole = areaOf(union(a, b, 0.01));
        const parts = areaOf(union(a, [], 0.01)) + areaOf(union(b, [], 0.01));
        expect(Math.abs(whole + both - parts)).toBeLessThan(1e-3);
        expect(
          Math.abs(areaOf(difference(a, b, 0.01)) + both - areaOf(union(a, [], 0.01))),
        ).toBeLessThan(1e-3);
      }),
      { numRuns: 50 },
    );
  });
});

describe("nesting", () => {
  test("a plate's holes lie in its outline, in any order and direction", () => {
    fc.assert(
      fc.property(seeds, fc.boolean(), (seed, flip) => {
        const rings = plate(seeded(seed), 3, 2).map((r) => (flip ? reversedContour(r) : r));
        const last = rings.length - 1;
        const mixed = [...rings.slice(1), rings[0] as Contour];
        expect(ringsNested(mixed)).toEqual(
          mixed.map((_, i) => (i === last ? { depth: 0, parent: -1 } : { depth: 1, parent: last })),
        );
      }),
      { numRuns: 50 },
    );
  });

  test("islands in islands, side by side, touching, and twice the same", () => {
    const rings = [
      rectangle(4, 4, 6, 6),
      rectangle(0, 0, 20, 20),
      disc(5, 5, 3),
      rectangle(20, 0, 30, 20),
      disc(25, 10, 5),
      disc(25, 10, 5),
    ];
    expect(ringsNested(rings)).toEqual([
      { depth: 2, parent: 2 },
      { depth: 0, parent: -1 },
      { depth: 1, parent: 1 },
      { depth: 0, parent: -1 },
      { depth: 1, parent: 3 },
      { depth: 2, parent: 4 },
    ]);
  });

  test("a hole that touches the outline at a vertex is still within; one outside that touches is not", () => {
    const outline = polygon(points(0, 0, 10, 0, 10, 10, 5, 5, 0, 10));
    const within = polygon(points(5, 5, 4, 3, 6, 3));
    const notch = polygon(points(5, 5, 6, 7, 4, 7));
    expect(ringsNested([outline, within, notch]).map((n) => n.depth)).toEqual([0, 1, 0]);
  });

  test("a ring in a bay is in the box but not in the ring", () => {
    const bay = polygon(points(0, 0, 10, 0, 10, 10, 8, 10, 8, 2, 2, 2, 2, 10, 0, 10));
    expect(ringsNested([rectangle(4, 5, 6, 7), bay]).map((n) => n.parent)).toEqual([-1, -1]);
  });
});
