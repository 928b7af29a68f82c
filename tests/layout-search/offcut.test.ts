/** Offcuts: inside what is left, clear of plates and kerf, read back as a sheet, and good for the next job. */
import process from "node:process";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readDrawing } from "../../src/core/drawing/read.ts";
import {
  bounds,
  perimeter,
  placeContour,
  polygon,
  rectangle,
  signedArea,
} from "../../src/core/geometry/contour.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import type { KeepOut, Placement, Sheet, SheetLayout } from "../../src/core/layout/layout.ts";
import { largestRectangle } from "../../src/core/layout/offcut/clear-rectangle.ts";
import {
  type CutSheet,
  cutSheetOf,
  type Offcut,
  offcutsOf,
} from "../../src/core/layout/offcut/offcut.ts";
import { offcutDxf } from "../../src/core/layout/offcut/offcut-dxf.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import { recognise } from "../../src/core/plate/recognise.ts";
import {
  demoPlate,
  inPolygon,
  ORACLE_TOLERANCE,
  plateOf,
  points,
  polygonDistance,
  sheetOf,
} from "../layout/support.ts";
import { type Job, job } from "./jobs.ts";

const OPTIONS = { kerf: 1.97, leastWidth: 40 };

function cutOf(sheet: Sheet, count: number): CutSheet {
  const plates = [{ plate: demoPlate("arm"), sheet: "s", count, gap: 6, fibreDeg: 0 }];
  const laid = layPlates({ sheets: [sheet], plates, widestCutter: 1.97 }).value[0];
  return cutSheetOf(laid as SheetLayout);
}

function isOnSheet(o: Offcut, j: Job): void {
  const sheet = points(j.sheet.outline);
  const on = points(o.outline);
  const middle = on.map((p, i) => {
    const q = on[(i + 1) % on.length] ?? p;
    return { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
  });
  for (const p of [...on, ...middle]) {
    // On the sheet's own edge either answer is right.
    const off = polygonDistance([p, p, p], sheet);
    expect(inPolygon(p, sheet) || off < ORACLE_TOLERANCE).toBe(true);
  }
}

function isClearOf(o: Offcut, { outer, features }: Placement, cutter: number): void {
  const on = points(o.outline);
  const walls = [outer, ...features.map((f) => f.contour)].map(points);
  const [plate = [], ...windows] = walls;
  const inPlate = (p: Point): boolean =>
    inPolygon(p, plate) && !windows.some((w) => inPolygon(p, w));
  expect(on.some(inPlate)).toBe(false);
  expect(plate.some((p) => inPolygon(p, on))).toBe(false);
  for (const wall of walls) expect(polygonDistance(on, wall)).toBeGreaterThan(1.5 * cutter);
}

function leavesOut(o: Offcut, k: KeepOut): void {
  const on = points(o.outline);
  if (k.kind === "disc") {
    expect(polygonDistance(on, [k.at, k.at, k.at])).toBeGreaterThanOrEqual(k.diameter / 2);
  } else {
    const { min, max } = k.box;
    expect(inPolygon({ x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 }, on)).toBe(false);
  }
}

function holdsItsRectangle({ outline, clear }: Offcut): void {
  const on = points(outline);
  const { min, max } = clear;
  const inner = [
    { x: min.x + 1e-6, y: min.y + 1e-6 },
    { x: max.x - 1e-6, y: min.y + 1e-6 },
    { x: max.x - 1e-6, y: max.y - 1e-6 },
    { x: min.x + 1e-6, y: max.y - 1e-6 },
  ];
  expect(inner.every((p) => inPolygon(p, on))).toBe(true);
  expect(on.some((p) => inPolygon(p, inner))).toBe(false);
}

describe("offcuts", () => {
  it("lie on the sheet, clear of every plate by the kerf, and hold their clear rectangle", () => {
    fc.assert(
      fc.property(job, (j) => {
        const laid = layPlates({ ...j, sheets: [j.sheet] }).value[0] as SheetLayout;
        for (const o of offcutsOf(cutSheetOf(laid), { kerf: j.widestCutter, leastWidth: 30 })) {
          expect(signedArea(o.outline)).toBeCloseTo(o.area, 6);
          isOnSheet(o, j);
          for (const p of laid.placements) isClearOf(o, p, j.widestCutter);
          for (const k of j.sheet.keepOuts) leavesOut(o, k);
          holdsItsRectangle(o);
        }
      }),
      { numRuns: process.env["WEFTCUT_LONG"] === undefined ? 12 : 500, endOnFailure: true },
    );
  });

  it("of an empty sheet is the sheet", () => {
    const [only, ...others] = offcutsOf(cutOf(sheetOf(rectangle(0, 0, 300, 200)), 0), OPTIONS);
    expect(others).toEqual([]);
    expect(only?.area).toBeCloseTo(60000, 3);
    // Back from whole units of the clipper, which last digits do not survive.
    const { min, max } = (only as Offcut).clear;
    for (const zero of [min.x, min.y, max.x - 300, max.y - 200]) expect(zero).toBeCloseTo(0, 9);
  });

  it("has a slit where a plate was cut out of its middle, and goes round it", () => {
    const plate = plateOf("p", rectangle(0, 0, 60, 40));
    const place = [{ x: 120, y: 80, rotationDeg: 0, flipped: false }];
    const plates = [{ plate, sheet: "s", count: 1, gap: 6, place }];
    const sheet = sheetOf(rectangle(0, 0, 300, 200));
    const laid = layPlates({ sheets: [sheet], plates, widestCutter: 1.97 }).value[0] as SheetLayout;
    const [only, ...others] = offcutsOf(cutSheetOf(laid), OPTIONS);
    expect(others).toEqual([]);
    expect(inPolygon({ x: 150, y: 100 }, points((only as Offcut).outline))).toBe(false);
    // Right of the plate as high as the sheet: to 180 goes the plate, and one and a half kerfs beyond.
    const { clear } = only as Offcut;
    for (const zero of [clear.min.y, clear.max.x - 300, clear.max.y - 200]) {
      expect(zero).toBeCloseTo(0, 9);
    }
    expect(clear.min.x).toBeCloseTo(180 + 1.5 * OPTIONS.kerf + 0.12, 3);
  });

  it("is read back as a sheet's outline, and takes the next job", () => {
    const sheet = sheetOf(rectangle(0, 0, 300, 200), { fibreDeg: 30, measuredThickness: 2.05 });
    const [offcut] = offcutsOf(cutOf(sheet, 6), OPTIONS) as [Offcut];
    const text = offcutDxf(offcut, "rest of s");
    const drawing = readDrawing("offcut.dxf", new TextEncoder().encode(text), {});
    const { value } = recognise(drawing, "offcut");
    expect(value.length).toBe(1);
    const outline = value[0]?.outer as Contour;
    // The reader takes chords for the arcs that they stand for, 0.02 mm off them at most.
    const slop = 0.02 * perimeter(offcut.outline);
    expect(Math.abs(signedArea(outline) - offcut.area)).toBeLessThan(slop);
    expect(bounds(outline).min.x).toBeCloseTo(0, 6);
    for (const word of ["rest of s", "2.05 mm thick", "fibre 30 deg"]) expect(text).toContain(word);
    const next = { ...sheet, outline };
    const plates = [
      { plate: plateOf("p", rectangle(0, 0, 40, 25)), sheet: "s", count: 3, gap: 6, fibreDeg: 0 },
    ];
    const search = { effort: "quick" as const, seed: 1, steps: 20_000 };
    const { findings } = layPlates({ sheets: [next], plates, widestCutter: 1.97, search });
    expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
  });
});

describe("the largest clear rectangle", () => {
  it("is within two cells a side of the true one in an L", () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 180 }), fc.integer({ min: 20, max: 180 }), (w, h) => {
        const l = polygon([
          { x: 0, y: 0 },
          { x: 200, y: 0 },
          { x: 200, y: h },
          { x: w, y: h },
          { x: w, y: 200 },
          { x: 0, y: 200 },
        ]);
        const { min, max } = largestRectangle(l);
        const found = (max.x - min.x) * (max.y - min.y);
        const best = Math.max(200 * h, w * 200);
        expect(found).toBeLessThanOrEqual(best);
        const cell = 200 / 400;
        expect(found).toBeGreaterThan(
          Math.max((200 - 4 * cell) * (h - 4 * cell), (w - 4 * cell) * (200 - 4 * cell)),
        );
      }),
    );
  });

  it("is the true one where all edges are upright or level, however many", () => {
    const size = fc.integer({ min: 1, max: 12 });
    fc.assert(
      fc.property(fc.array(fc.tuple(size, size), { minLength: 2, maxLength: 9 }), (steps) => {
        // A skyline: towers side by side, so the best is under a run of them.
        let x = 0;
        const up = steps.flatMap(([w, h]) => {
          const left = x;
          x += 10 * w;
          return [left, x].map((at) => ({ x: at, y: 10 * h }));
        });
        const outline = polygon([{ x, y: 0 }, ...up.reverse(), { x: 0, y: 0 }].reverse());
        let best = 0;
        for (let i = 0; i < steps.length; i++) {
          for (let j = i; j < steps.length; j++) {
            const run = steps.slice(i, j + 1);
            const wide = run.reduce((sum, [w]) => sum + 10 * w, 0);
            best = Math.max(best, wide * Math.min(...run.map(([, h]) => 10 * h)));
          }
        }
        const { min, max } = largestRectangle(outline);
        expect((max.x - min.x) * (max.y - min.y)).toBeCloseTo(best, 6);
      }),
    );
  });

  it("is within a sixty-fourth a side of the true one in a triangle, however it is turned", () => {
    const side = fc.integer({ min: 20, max: 180 });
    fc.assert(
      fc.property(side, side, fc.integer({ min: 0, max: 3 }), (w, h, quarters) => {
        const corner = polygon([
          { x: 0, y: 0 },
          { x: w, y: 0 },
          { x: 0, y: h },
        ]);
        const angle = (quarters * Math.PI) / 2;
        const outline = placeContour(corner, { x: 7, y: -3, angle, flipped: false });
        const { min, max } = largestRectangle(outline);
        const found = (max.x - min.x) * (max.y - min.y);
        const cell = Math.max(w, h) / 64;
        expect(found).toBeLessThanOrEqual((w * h) / 4 + 1e-3);
        expect(found).toBeGreaterThan((w / 2 - cell) * (h / 2 - cell));
        const on = points(outline);
        const inner = [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }];
        for (const p of inner) {
          expect(inPolygon(p, on) || polygonDistance([p, p, p], on) < 1e-6).toBe(true);
        }
      }),
    );
  });
});
