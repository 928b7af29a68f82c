/** Roughing is led through what only the finished ring enters, and never into the plate. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  contains,
  distanceTo,
  oriented,
  placeContour,
  polygon,
  rectangle,
} from "../../src/core/geometry/contour.ts";
import { pointAt } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { placementOf } from "../../src/core/layout/placed.ts";
import { roughThrough } from "../../src/core/toolpath/follow/rough.ts";
import { ringOutside } from "../../src/core/toolpath/follow/walls.ts";
import { recogniseFeatures } from "./features.ts";
import { plateOf, runOf } from "./support.ts";

/** A plate of 60 × 40 with notches in two opposite edges, turned by some angle. */
interface Notched {
  readonly lower: readonly Notch[];
  readonly upper: readonly Notch[];
  readonly angle: number;
}

interface Notch {
  readonly width: number;
  readonly depth: number;
}

function notched({ lower, upper, angle }: Notched): Contour {
  const edge = (notches: readonly Notch[], y: number, inward: 1 | -1): Point[] =>
    notches.flatMap(({ width, depth }, i) => {
      const x = (60 * (i + 1)) / (notches.length + 1);
      const points: [number, number][] = [
        [x - width / 2, y],
        [x - width / 2, y + inward * depth],
        [x + width / 2, y + inward * depth],
        [x + width / 2, y],
      ];
      return points.map(([px, py]) => ({ x: px, y: py }));
    });
  const points: Point[] = [
    { x: 0, y: 0 },
    ...edge(lower, 0, 1),
    { x: 60, y: 0 },
    { x: 60, y: 40 },
    ...edge(upper, 40, -1).reverse(),
    { x: 0, y: 40 },
  ];
  return oriented(placeContour(polygon(points), { x: 7, y: -3, angle, flipped: false }), true);
}

function grown(outline: Contour, by: number): Contour {
  const home = { x: 0, y: 0, angle: 0, flipped: false };
  return ringOutside(placementOf(plateOf(outline), home, 1), by);
}

function* samples({ segments }: Contour): Generator<Point> {
  for (const s of segments) for (let k = 0; k < 9; k++) yield pointAt(s, k / 9);
}

const RADIUS = 1;
const notch = fc.record({
  // From what the cutter just enters to what roughing enters too.
  width: fc.double({ min: 2 * RADIUS + 0.02, max: 2 * RADIUS + 1.4, noNaN: true }),
  depth: fc.double({ min: 0.2, max: 9, noNaN: true }),
});
const plate = fc.record({
  lower: fc.array(notch, { maxLength: 4 }),
  upper: fc.array(notch, { maxLength: 3 }),
  angle: fc.double({ min: 0, max: 6.28, noNaN: true }),
});
const stocks = fc.constantFrom(0.05, 0.1, 0.2, 0.5);

describe("the roughing ring", () => {
  test("leaves the finishing pass no more than half as much again as the stock, and the plate alone", () => {
    let led = 0;
    fc.assert(
      fc.property(plate, stocks, (drawn, stock) => {
        const outline = notched(drawn);
        const finished = grown(outline, RADIUS);
        const ring = grown(outline, RADIUS + stock);
        const rough = roughThrough(ring, finished, stock);
        expect(rough).toBeDefined();
        if (rough === undefined) return;
        if (rough !== ring) led++;
        for (const p of samples(finished)) {
          expect(distanceTo(rough, p)).toBeLessThanOrEqual(1.5 * stock + 1e-3);
        }
        for (const p of samples(rough)) {
          expect(contains(outline, p)).toBe(false);
          expect(distanceTo(outline, p)).toBeGreaterThanOrEqual(RADIUS - 1e-3);
        }
        for (const [i, s] of rough.segments.entries()) {
          expect(s.to).toEqual(rough.segments[(i + 1) % rough.segments.length]?.from);
        }
      }),
      { numRuns: 150 },
    );
    expect(led).toBeGreaterThan(50);
  });

  test("is as it was where it goes everywhere", () => {
    const outline = notched({ lower: [{ width: 8, depth: 5 }], upper: [], angle: 0.3 });
    const ring = grown(outline, RADIUS + 0.2);
    expect(roughThrough(ring, grown(outline, RADIUS), 0.2)).toBe(ring);
  });
});

describe("openings that clearing cannot leave a stock in", () => {
  /** 6 × 6 with a notch in its side that a cutter of 1.97 mm enters, and no cutter with 0.2 mm round it. */
  const notchedWindow = (x: number): Contour => {
    const corners: [number, number][] = [
      [0, 0],
      [6, 0],
      [6, 2],
      [9, 2],
      [9, 4.1],
      [6, 4.1],
      [6, 6],
      [0, 6],
    ];
    return polygon(corners.map(([px, py]) => ({ x: px + x, y: py + 20 })));
  };
  const findingsOf = (stock: number) =>
    runOf({
      plates: [
        plateOf(rectangle(0, 0, 90, 50), recogniseFeatures([notchedWindow(20), notchedWindow(50)])),
      ],
      options: { finish: { stock } },
    }).routed.findings.filter((f) => f.code === "cut-without-finishing");

  test("are told once a plate, with their number", () => {
    expect(findingsOf(0.2)).toEqual([
      expect.objectContaining({
        plate: "plate",
        message: expect.stringMatching(
          /cut to size at once.* 1 more contour of this plate is cut so/,
        ),
        data: expect.objectContaining({ stock: 0.2, others: 1 }),
      }),
    ]);
  });

  test("are not where the stock is none, or fits", () => {
    expect(findingsOf(0)).toEqual([]);
    expect(findingsOf(0.02)).toEqual([]);
  });
});
