/**
 * Laws: where a plate is drawn, how it is turned or mirrored, changes no verdict of the rules of strength and cutting; and
 * stiffness off the fibres against published values.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { runChecks } from "../../src/core/check/run.ts";
import { closest } from "../../src/core/check/shape/gaps.ts";
import { longAxis } from "../../src/core/check/shape/long-axis.ts";
import { modulusAt, shearModulusAt, WOVEN } from "../../src/core/check/shape/off-axis.ts";
import { placeContour } from "../../src/core/geometry/contour.ts";
import { arc, line, pointAt } from "../../src/core/geometry/segment.ts";
import type { Contour, Rigid, Segment } from "../../src/core/geometry/shape.ts";
import { box, hole, jobOf, pattern, plateOf, rounded, slot } from "./build.ts";

const angle = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
const place: fc.Arbitrary<Rigid> = fc.record({
  x: fc.double({ min: -200, max: 200, noNaN: true }),
  y: fc.double({ min: -200, max: 200, noNaN: true }),
  angle,
  flipped: fc.boolean(),
});

/** A plate with something for most rules: thin webs, near holes, a tight window, a pattern that is a little off. */
const OUTER = rounded(
  [
    [-40, -30],
    [40, -30],
    [40, 30],
    [5, 30],
    [1, 22],
    [-5, 30],
    [-40, 30],
  ],
  1.4,
);
const OPENINGS: readonly Contour[] = [
  slot(0, 0, 3, 20),
  slot(0, 4, 3, 20),
  slot(0, -6, 1.5, 20),
  hole(36, 20, 3),
  hole(30, 20, 3.4),
  box(-25, 0, 10, 20, 0.6),
  ...pattern(15, -15, 16.2, 3.4),
];

/** The mirror rules speak of upright and level lines alone. */
const LEVEL = new Set(["nearly-symmetric", "stack-off-centre"]);

function verdicts(m: Rigid): string[] {
  const plate = plateOf(
    placeContour(OUTER, m),
    OPENINGS.map((c) => placeContour(c, m)),
  );
  return runChecks(jobOf({ plates: [{ plate }] }))
    .filter((f) => !LEVEL.has(f.code))
    .map((f) => `${f.severity} ${f.code} ${Number(f.data["found"]).toFixed(2)}`)
    .sort((a, b) => (a < b ? -1 : 1));
}

test("turned, mirrored and moved, a plate has the same to be said of it", () => {
  const upright = verdicts({ x: 0, y: 0, angle: 0, flipped: false });
  expect(upright.length).toBeGreaterThan(8);
  fc.assert(
    fc.property(place, (m) => {
      expect(verdicts(m)).toEqual(upright);
    }),
    { numRuns: 25 },
  );
});

const point = fc.record({
  x: fc.integer({ min: -50, max: 50 }),
  y: fc.integer({ min: -50, max: 50 }),
});
const segment: fc.Arbitrary<Segment> = fc
  .tuple(point, point, fc.double({ min: 0.5, max: 20, noNaN: true }), angle, angle, fc.boolean())
  .filter(([a, b, , , turn]) => (a.x !== b.x || a.y !== b.y) && turn > 0.1)
  .map(([a, b, r, from, turn, bow]) => {
    if (!bow) return line(a, b);
    const on = (t: number) => ({ x: a.x + r * Math.cos(t), y: a.y + r * Math.sin(t) });
    return arc(on(from), on(from + turn), a, true);
  });

test("no two points of two segments are nearer than the nearest", () => {
  fc.assert(
    fc.property(segment, segment, (s, t) => {
      const c = closest(s, t);
      expect(Math.hypot(c.a.x - c.b.x, c.a.y - c.b.y)).toBeCloseTo(c.distance, 9);
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 60; i++) {
        const p = pointAt(s, i / 60);
        for (let j = 0; j <= 60; j++) {
          const q = pointAt(t, j / 60);
          sampled = Math.min(sampled, Math.hypot(p.x - q.x, p.y - q.y));
        }
      }
      expect(c.distance).toBeLessThanOrEqual(sampled + 1e-9);
      // Samples lie at most half a step of each segment from the true points.
      expect(sampled).toBeLessThanOrEqual(c.distance + 3);
    }),
  );
});

describe("stiffness off the fibres", () => {
  // Computed from Jones, Mechanics of Composite Materials, ch. 2, for standard carbon fabric (published property table).
  test.each([
    [0, 70],
    [5, 64.28],
    [10, 52.04],
    [15, 40.29],
    [20, 31.55],
    [30, 21.79],
    [45, 17.72],
  ])("fabric at %d° has %d GPa", (deg, gpa) => {
    expect(modulusAt(WOVEN, (deg * Math.PI) / 180)).toBeCloseTo(gpa, 2);
  });

  test("a 0/90 laminate at 45° (constituents of Hyer's textbook pp. 89–90; open laminate calculator's regression data)", () => {
    const laminate = { e1: 66.775, e2: 66.775, g12: 6.93, nu12: 0.06268 };
    expect(modulusAt(laminate, Math.PI / 4)).toBeCloseTo(23.205, 2);
    expect(shearModulusAt(laminate, Math.PI / 4)).toBeCloseTo(31.418, 2);
  });

  test("a graphite/epoxy lamina at 60° (Kaw, from memory)", () => {
    const lamina = { e1: 181, e2: 10.3, g12: 7.17, nu12: 0.28 };
    expect(modulusAt(lamina, Math.PI / 3)).toBeCloseTo(12.42, 1);
  });

  test("balanced cloth is alike at every quarter turn", () => {
    fc.assert(
      fc.property(angle, (a) => {
        expect(modulusAt(WOVEN, a + Math.PI / 2)).toBeCloseTo(modulusAt(WOVEN, a), 9);
      }),
    );
  });
});

test("a long plate's axis is found however it is turned", () => {
  fc.assert(
    fc.property(place, (m) => {
      const { length, width, angle: found } = longAxis(placeContour(box(0, 0, 100, 16, 3), m));
      expect(length).toBeCloseTo(100, 6);
      expect(width).toBeCloseTo(16, 6);
      const off = found - m.angle;
      expect(Math.abs(Math.sin(off))).toBeLessThan(1e-6);
    }),
  );
});
