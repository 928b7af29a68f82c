/** Offcuts: inside what is left, clear of plates and kerf, read back as a sheet, and good for the next job. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readDrawing } from "../../src/core/drawing/read.ts";
import { bounds, polygon, rectangle, signedArea } from "../../src/core/geometry/contour.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import type { Sheet, SheetLayout } from "../../src/core/layout/layout.ts";
import { largestRectangle } from "../../src/core/layout/offcut/clear-rectangle.ts";
import { type Offcut, offcutsOf } from "../../src/core/layout/offcut/offcut.ts";
import { offcutDxf } from "../../src/core/layout/offcut/offcut-dxf.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import { recognise } from "../../src/core/plate/recognise.ts";
import {
  demoPlate,
  inPolygon,
  plateOf,
  points,
  polygonDistance,
  sheetOf,
} from "../layout/support.ts";
import { job } from "./jobs.ts";

const OPTIONS = { kerf: 1.97, leastWidth: 40 };

function layout(sheet: Sheet, count: number): SheetLayout {
  const plates = [{ plate: demoPlate("arm"), sheet: "s", count, gap: 6, fibreDeg: 0 }];
  return layPlates({ sheets: [sheet], plates, widestCutter: 1.97 }).value[0] as SheetLayout;
}

function corners(c: Contour): { x: number; y: number }[] {
  const { min, max } = bounds(c);
  return [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }];
}

describe("offcuts", () => {
  it("lie on the sheet, clear of every plate by the kerf, and hold their clear rectangle", () => {
    fc.assert(
      fc.property(job, (j) => {
        const laid = layPlates({ ...j, sheets: [j.sheet] }).value[0] as SheetLayout;
        const sheet = points(j.sheet.outline);
        for (const o of offcutsOf(laid, { kerf: j.widestCutter, leastWidth: 30 })) {
          expect(signedArea(o.outline)).toBeCloseTo(o.area, 6);
          const on = points(o.outline);
          const middle = on.map((p, i) => {
            const q = on[(i + 1) % on.length] ?? p;
            return { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
          });
          for (const p of [...on, ...middle]) {
            // On the sheet's own edge either answer is right.
            const off = polygonDistance([p, p, p], sheet);
            expect(inPolygon(p, sheet) || off < 0.06).toBe(true);
          }
          for (const { outer } of laid.placements) {
            const plate = points(outer);
            expect(on.some((p) => inPolygon(p, plate))).toBe(false);
            expect(plate.some((p) => inPolygon(p, on))).toBe(false);
            expect(polygonDistance(on, plate)).toBeGreaterThan(j.widestCutter);
          }
          const box = corners(
            polygon([
              o.clear.min,
              { x: o.clear.max.x, y: o.clear.min.y },
              o.clear.max,
              { x: o.clear.min.x, y: o.clear.max.y },
            ]),
          );
          const inner = box.map((p) => ({
            x: p.x + (p.x === o.clear.min.x ? 1e-6 : -1e-6),
            y: p.y + (p.y === o.clear.min.y ? 1e-6 : -1e-6),
          }));
          expect(inner.every((p) => inPolygon(p, on))).toBe(true);
          expect(on.some((p) => inPolygon(p, inner))).toBe(false);
        }
      }),
      { numRuns: 25 },
    );
  });

  it("of an empty sheet is the sheet", () => {
    const [only, ...others] = offcutsOf(layout(sheetOf(rectangle(0, 0, 300, 200)), 0), OPTIONS);
    expect(others).toEqual([]);
    // Opening rounds the four corners: (4 − π) r² less.
    expect(only?.area).toBeCloseTo(60000 - (4 - Math.PI) * 20 ** 2, -2);
    expect(only?.clear.max.x).toBeGreaterThan(296);
  });

  it("has a slit where a plate was cut out of its middle, and goes round it", () => {
    const plate = plateOf("p", rectangle(0, 0, 60, 40));
    const place = [{ x: 120, y: 80, rotationDeg: 0, flipped: false }];
    const plates = [{ plate, sheet: "s", count: 1, gap: 6, place }];
    const sheet = sheetOf(rectangle(0, 0, 300, 200));
    const laid = layPlates({ sheets: [sheet], plates, widestCutter: 1.97 }).value[0] as SheetLayout;
    const [only, ...others] = offcutsOf(laid, OPTIONS);
    expect(others).toEqual([]);
    expect(inPolygon({ x: 150, y: 100 }, points((only as Offcut).outline))).toBe(false);
    // Right of the plate: 300 − 182.07 wide and as high as the sheet.
    const { clear } = only as Offcut;
    expect((clear.max.x - clear.min.x) * (clear.max.y - clear.min.y)).toBeGreaterThan(110 * 195);
  });

  it("is read back as a sheet's outline, and takes the next job", () => {
    const sheet = sheetOf(rectangle(0, 0, 300, 200), { fibreDeg: 30, measuredThickness: 2.05 });
    const [offcut] = offcutsOf(layout(sheet, 6), OPTIONS) as [Offcut];
    const text = offcutDxf(offcut, "rest of s");
    const drawing = readDrawing("offcut.dxf", new TextEncoder().encode(text), {});
    const { value } = recognise(drawing, "offcut");
    expect(value.length).toBe(1);
    const outline = value[0]?.outer as Contour;
    expect(signedArea(outline)).toBeCloseTo(offcut.area, 2);
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
});
