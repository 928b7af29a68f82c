/** Relief by formula, and that a square thing and a round cutter both get where they must. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CornerRelief, relieve } from "../../src/core/fit/shape/relief.ts";
import { slotContour } from "../../src/core/fit/shape/slot-cut.ts";
import { relieveWindow } from "../../src/core/fit/window.ts";
import { contains, distanceTo, oriented } from "../../src/core/geometry/contour.ts";
import { line } from "../../src/core/geometry/segment.ts";
import { featureOf } from "../../src/core/plate/feature.ts";
import { box, poly } from "../check/build.ts";

const square = (way: CornerRelief, r: number) =>
  relieve(line({ x: 0, y: 0 }, { x: 20, y: 0 }), line({ x: 20, y: 0 }, { x: 20, y: 20 }), way, r);

describe("bite at 90°", () => {
  // Common practice, no source; by geometry 1 − √½ = 0.2929 and 1.
  test("on the bisector it is 0.29 r past each wall", () => {
    const cut = square("bisector", 1);
    expect(cut?.bite).toBeCloseTo(0.29, 2);
    expect(cut?.bite).toBeCloseTo(1 - Math.SQRT1_2, 12);
    // Measured on the arc itself.
    expect(20 + (cut?.bite ?? 0)).toBeCloseTo((cut?.bow.centre.x ?? 0) + 1, 12);
    expect(-(cut?.bite ?? 0)).toBeCloseTo((cut?.bow.centre.y ?? 0) - 1, 12);
  });

  test("along a wall it is the whole radius past the other, and nothing past its own", () => {
    const cut = square("along-first", 1.5);
    expect(cut?.bite).toBe(1.5);
    expect(cut?.bow.centre).toEqual({ x: 20, y: 1.5 });
    const other = square("along-second", 1.5);
    expect(other?.bow.centre).toEqual({ x: 18.5, y: 0 });
  });
});

test("at any angle the circle goes through the corner, and bites as deep as is said", () => {
  const ways = fc.constantFrom<CornerRelief>("along-first", "along-second", "bisector");
  fc.assert(
    fc.property(
      ways,
      fc.double({ min: 0.3, max: 2.8, noNaN: true }),
      fc.double({ min: 0.3, max: 4, noNaN: true }),
      (way, angle, r) => {
        const corner = { x: 0, y: 0 };
        const first = line({ x: 30 * Math.cos(angle), y: 30 * Math.sin(angle) }, corner);
        const cut = relieve(first, line(corner, { x: 30, y: 0 }), way, r);
        expect(cut).toBeDefined();
        if (cut === undefined) return;
        const { centre } = cut.bow;
        expect(Math.hypot(centre.x, centre.y)).toBeCloseTo(r, 9);
        expect(cut.bow.radius).toBeCloseTo(r, 9);
        // How far the circle reaches past the second wall's line, which lies along X.
        const past = r - centre.y;
        if (way === "along-second") expect(past).toBeCloseTo(0, 9);
        else expect(past).toBeCloseTo(cut.bite, 9);
      },
    ),
  );
});

const slots = fc.record({
  width: fc.double({ min: 1.6, max: 12, noNaN: true }),
  longer: fc.double({ min: 0.5, max: 30, noNaN: true }),
  angle: fc.double({ min: 0, max: Math.PI, noNaN: true }),
  way: fc.constantFrom("along-wall" as const, "bisector" as const, "round-ends" as const),
});

test("a square thing of the slot's size is inside it, corners and all, and it is no wider than asked", () => {
  fc.assert(
    fc.property(slots, ({ width, longer, angle, way }) => {
      const length = width + longer;
      const at = { x: 7, y: -3 };
      const radius = 0.8;
      const { contour, relief } = slotContour(
        { at, angle, width, length, origin: undefined },
        way,
        radius,
      );
      const on = (x: number, y: number) => ({
        x: at.x + x * Math.cos(angle) - y * Math.sin(angle),
        y: at.y + x * Math.sin(angle) + y * Math.cos(angle),
      });
      for (const [sx, sy] of [
        [1, 1],
        [1, -1],
        [-1, 1],
        [-1, -1],
      ] as const) {
        expect(contains(contour, on(sx * (length / 2 - 1e-6), sy * (width / 2 - 1e-6)))).toBe(true);
        expect(distanceTo(contour, on((sx * length) / 2, (sy * width) / 2))).toBeLessThan(1e-9);
      }
      // Across its middle it is as wide as asked, to the bit of a sum.
      expect(distanceTo(contour, at)).toBeCloseTo(width / 2, 9);
      expect(relief?.bite).toBeGreaterThan(0);
      // Past the ends it goes as far as the bite says and no further.
      const bite = relief?.bite ?? 0;
      const end = way === "bisector" && relief?.way === "bisector" ? width / 2 : 0;
      expect(contains(contour, on(length / 2 + bite + 1e-6, end))).toBe(false);
    }),
  );
});

test("a window's corners are cut free along the longer walls on request", () => {
  const feature = featureOf(0, oriented(box(0, 0, 20, 12), false), undefined);
  const wish = { window: { x: 0, y: 0 }, way: "along-wall" } as const;
  const made = relieveWindow(feature, wish, 1);
  expect(made?.relief).toEqual({ way: "along-wall", radius: 1, bite: 1, corners: 4 });
  const contour = made?.contour as NonNullable<typeof made>["contour"];
  // Bites past the short walls, not past the long ones.
  expect(contains(contour, { x: 10.9, y: 5 })).toBe(true);
  expect(contains(contour, { x: 9, y: 6.1 })).toBe(false);
  const dogbone = relieveWindow(feature, { ...wish, way: "bisector" }, 1);
  expect(dogbone?.relief.bite).toBeCloseTo(0.2929, 4);
});

test("a triangle's corners too, and a wall too short for two reliefs is left alone", () => {
  const triangle = featureOf(0, oriented(poly([0, 0], [20, 0], [0, 14]), false), undefined);
  const wish = { window: { x: 2, y: 2 }, way: "bisector" } as const;
  expect(relieveWindow(triangle, wish, 0.5)?.relief.corners).toBe(3);
  const narrow = featureOf(0, oriented(box(0, 0, 20, 2), false), undefined);
  expect(relieveWindow(narrow, { ...wish, way: "bisector" }, 1)).toBeUndefined();
});
