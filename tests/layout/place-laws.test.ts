/** Laws of the layout over seeded jobs. */
import process from "node:process";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { polygon, rectangle, signedArea } from "../../src/core/geometry/contour.ts";
import { arc, circle, line, placePoint } from "../../src/core/geometry/segment.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import { degrees } from "../../src/core/geometry/trig.ts";
import type { KeepOut, Sheet, SheetLayout } from "../../src/core/layout/layout.ts";
import { layPlates, leastGap, webGap } from "../../src/core/layout/place.ts";
import type { PlateOrder } from "../../src/core/layout/riders.ts";
import {
  demoPlate,
  inPolygon,
  ORACLE_TOLERANCE,
  plateOf,
  points,
  polygonDistance,
  shapeDistance,
  sheetOf,
} from "./support.ts";

const runs = process.env["WEFTCUT_LONG"] === undefined ? 50 : 500;

/** Chords against exact arcs on two contours, and the last digits. */
const SLOP = 2 * ORACLE_TOLERANCE + 1e-5;

const tenths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 10, max: max * 10 }).map((i) => i / 10);

const outline: fc.Arbitrary<Contour> = fc.oneof(
  fc.tuple(tenths(8, 80), tenths(8, 80)).map(([w, h]) => rectangle(-w / 3, 5, w - w / 3, 5 + h)),
  tenths(5, 30).map((r) => ({ segments: [circle({ x: 40, y: -12 }, r, true)] })),
  fc.tuple(tenths(10, 60), tenths(10, 60), tenths(3, 9)).map(([w, h, t]) =>
    polygon([
      { x: 0, y: 0 },
      { x: w, y: 0 },
      { x: w, y: t },
      { x: t, y: t },
      { x: t, y: h },
      { x: 0, y: h },
    ]),
  ),
  tenths(6, 40).map((w) => {
    const a = { x: 0, y: 0 };
    const b = { x: w, y: 0 };
    const c = { x: w, y: 10 };
    const d = { x: 0, y: 10 };
    return {
      segments: [
        line(a, b),
        arc(b, c, { x: w, y: 5 }, true),
        line(c, d),
        arc(d, a, { x: 0, y: 5 }, true),
      ],
    };
  }),
);

/** An L-shaped offcut with a round inside corner, or a plain rectangle. */
const sheetOutline: fc.Arbitrary<Contour> = fc.oneof(
  fc.tuple(tenths(120, 400), tenths(100, 300)).map(([w, h]) => rectangle(0, 0, w, h)),
  fc.tuple(tenths(200, 400), tenths(150, 300)).map(([w, h]) => {
    const p = { x: 90, y: 80 };
    const q = { x: 80, y: 90 };
    return {
      segments: [
        line({ x: 0, y: 0 }, { x: w, y: 0 }),
        line({ x: w, y: 0 }, { x: w, y: 80 }),
        line({ x: w, y: 80 }, p),
        arc(p, q, { x: 90, y: 90 }, false),
        line(q, { x: 80, y: h }),
        line({ x: 80, y: h }, { x: 0, y: h }),
        line({ x: 0, y: h }, { x: 0, y: 0 }),
      ],
    };
  }),
);

const keepOut: fc.Arbitrary<KeepOut> = fc.oneof(
  fc.record({
    kind: fc.constant("disc" as const),
    at: fc.record({ x: tenths(0, 120), y: tenths(0, 100) }),
    diameter: tenths(4, 20),
  }),
  fc.tuple(tenths(0, 100), tenths(0, 90), tenths(2, 30), tenths(2, 30)).map(([x, y, w, h]) => ({
    kind: "box" as const,
    box: { min: { x, y }, max: { x: x + w, y: y + h } },
  })),
);

interface Job {
  readonly sheet: Sheet;
  readonly plates: PlateOrder[];
  readonly widestCutter: number;
}

const job: fc.Arbitrary<Job> = fc
  .record({
    outline: sheetOutline,
    margin: tenths(0, 10),
    fibreDeg: fc.constantFrom(0, 30, 90),
    keepOuts: fc.array(keepOut, { maxLength: 3 }),
    plates: fc.array(
      fc.record({
        outline,
        count: fc.integer({ min: 1, max: 4 }),
        gap: tenths(0, 12),
        fibreDeg: fc.constantFrom(undefined, 0, 45, 90),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    widestCutter: fc.constantFrom(1, 1.97, 3.175),
  })
  .map((j) => ({
    sheet: sheetOf(j.outline, { margin: j.margin, fibreDeg: j.fibreDeg, keepOuts: j.keepOuts }),
    plates: j.plates.map((p, i) => ({
      plate: plateOf(`p${i}`, p.outline),
      sheet: "s",
      count: p.count,
      gap: p.gap,
      fibreDeg: p.fibreDeg,
    })),
    widestCutter: j.widestCutter,
  }));

function lay(j: Job): { layout: SheetLayout; codes: string[]; stopped: boolean } {
  const { value, findings } = layPlates({ ...j, sheets: [j.sheet] });
  return {
    layout: value[0] as SheetLayout,
    codes: findings.map((f) => f.code),
    stopped: findings.some((f) => f.severity === "stop"),
  };
}

describe("laws", () => {
  it("keeps gap, margin, keep-outs, fibre and count", () => {
    fc.assert(
      fc.property(job, (j) => {
        const { layout, codes, stopped } = lay(j);
        const { placements } = layout;
        const wanted = j.plates.reduce((sum, p) => sum + p.count, 0);
        expect(placements.length === wanted || stopped).toBe(true);
        expect(new Set(placements.map((p) => `${p.plate.name} ${p.copy}`)).size).toBe(
          placements.length,
        );
        const narrow = codes.includes("gap-narrow");
        const floor = narrow ? leastGap(j.widestCutter) : webGap(j.widestCutter);
        const edge = points(j.sheet.outline);
        const margin = Math.max(j.sheet.margin, j.widestCutter + 1);
        placements.forEach((p, i) => {
          const order = j.plates.find((o) => o.plate === p.plate) as PlateOrder;
          const on = points(p.outer);
          expect(on.every((q) => inPolygon(q, edge))).toBe(true);
          expect(polygonDistance(on, edge)).toBeGreaterThan(margin - SLOP);
          for (const k of j.sheet.keepOuts) {
            const shape = points(
              k.kind === "disc"
                ? { segments: [circle(k.at, k.diameter / 2, true)] }
                : rectangle(k.box.min.x, k.box.min.y, k.box.max.x, k.box.max.y),
            );
            expect(on.some((q) => inPolygon(q, shape))).toBe(false);
            expect(shape.some((q) => inPolygon(q, on))).toBe(false);
            expect(polygonDistance(on, shape)).toBeGreaterThan(1.5 * j.widestCutter - SLOP);
          }
          if (order.fibreDeg !== undefined) {
            const turned = degrees(p.plateToSheet.angle) + order.fibreDeg - j.sheet.fibreDeg;
            expect(Math.abs(Math.sin((turned * Math.PI) / 180))).toBeLessThan(1e-9);
          }
          for (const other of placements.slice(i + 1)) {
            const theirs = j.plates.find((o) => o.plate === other.plate) as PlateOrder;
            const gap = Math.max(floor, order.gap, theirs.gap);
            expect(shapeDistance(p, other)).toBeGreaterThan(gap - SLOP);
          }
        });
      }),
      { numRuns: runs },
    );
  });

  it("gives the same layout twice", () => {
    fc.assert(
      fc.property(job, (j) => {
        const once = layPlates({ ...j, sheets: [j.sheet] });
        const again = layPlates({ ...j, sheets: [j.sheet] });
        expect(JSON.stringify(again)).toBe(JSON.stringify(once));
      }),
      { numRuns: 30 },
    );
  });

  it("moves contours and features by the placement's own transform", () => {
    const { layout } = lay({
      sheet: sheetOf(rectangle(0, 0, 300, 200), { fibreDeg: 30 }),
      plates: [{ plate: demoPlate("bottom-plate"), sheet: "s", count: 1, gap: 6, fibreDeg: 45 }],
      widestCutter: 2,
    });
    const p = layout.placements[0];
    expect(p?.features.length).toBe(p?.plate.features.length);
    for (const [i, feature] of (p?.features ?? []).entries()) {
      const drawn = p?.plate.features[i];
      if (p === undefined || drawn === undefined) continue;
      const at = placePoint(drawn.at, p.plateToSheet);
      expect(feature.at.x).toBeCloseTo(at.x, 9);
      expect(feature.at.y).toBeCloseTo(at.y, 9);
      expect(signedArea(feature.contour)).toBeCloseTo(-drawn.area, 6);
      if (feature.kind !== "slot" || feature.angle === undefined) continue;
      const side = feature.contour.segments.find((s) => s.kind === "line");
      const along = Math.atan2(
        (side?.to.y ?? 0) - (side?.from.y ?? 0),
        (side?.to.x ?? 0) - (side?.from.x ?? 0),
      );
      expect(Math.abs(Math.sin(along - feature.angle))).toBeLessThan(1e-9);
    }
  });

  it("says how full the sheet is", () => {
    const plate = plateOf("p", rectangle(0, 0, 40, 25), [rectangle(5, 5, 15, 15)]);
    const { layout } = lay({
      sheet: sheetOf(rectangle(0, 0, 100, 100)),
      plates: [{ plate, sheet: "s", count: 2, gap: 6 }],
      widestCutter: 2,
    });
    expect(layout.utilisation).toBeCloseTo((2 * (40 * 25 - 100)) / 10000, 12);
  });
});
