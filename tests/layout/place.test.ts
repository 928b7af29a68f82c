/** Laws of the layout over seeded jobs, then each thing that it has to say. */
import process from "node:process";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bounds, polygon, rectangle, signedArea } from "../../src/core/geometry/contour.ts";
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

describe("what it says", () => {
  const small = plateOf("small", rectangle(0, 0, 20, 10));
  const base = { sheet: "s", gap: 6 };

  it("a plate larger than its sheet, with both sizes", () => {
    const { findings } = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 100, 60))],
      plates: [{ ...base, plate: demoPlate("arm"), count: 1, fibreDeg: 0 }],
      widestCutter: 2,
    });
    expect(findings.map((f) => [f.code, f.severity])).toEqual([
      ["plate-larger-than-sheet", "stop"],
    ]);
    expect(findings[0]?.data).toMatchObject({ clearWidth: 88, clearHeight: 48, margin: 6 });
    expect(findings[0]?.message).toContain("88 × 48 mm");
  });

  it("a full sheet, with how many are left over", () => {
    const { findings } = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 60, 40))],
      plates: [{ ...base, plate: small, count: 9 }],
      widestCutter: 2,
    });
    expect(findings.map((f) => f.code)).toEqual(["sheet-full"]);
    // By hand: 48 × 28 mm clear, 20 × 10 mm with 6 mm between them: two in a row, two rows.
    expect(findings[0]?.data).toMatchObject({ missing: 5, count: 9 });
  });

  it("a gap that was raised, and one that could not be", () => {
    const asked = { plate: small, sheet: "s", gap: 1 };
    const roomy = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 60, 40))],
      plates: [{ ...asked, count: 2 }],
      widestCutter: 2,
    });
    expect(roomy.findings.map((f) => f.code)).toEqual(["gap-raised"]);
    expect(roomy.findings[0]?.data).toMatchObject({ asked: 1, used: 5.5 });
    // 12 + 43 mm: two plates with 3 mm between them, not with 5.5.
    const tight = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 55, 22))],
      plates: [{ ...asked, count: 2 }],
      widestCutter: 2,
    });
    expect(tight.findings.map((f) => [f.code, f.severity])).toEqual([["gap-narrow", "warn"]]);
    expect(tight.findings[0]?.data).toMatchObject({ used: 3, wanted: 5.5 });
  });

  it("a sheet that is not there", () => {
    const { findings } = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 100, 60))],
      plates: [{ plate: small, sheet: "glass", gap: 6, count: 1 }],
      widestCutter: 2,
    });
    expect(findings.map((f) => f.code)).toEqual(["sheet-unknown"]);
  });
});

describe("fixed places", () => {
  const small = plateOf("small", rectangle(0, 0, 20, 10));
  const put = (x: number, y: number, rotationDeg = 0, flipped = false) => ({
    x,
    y,
    rotationDeg,
    flipped,
  });
  const findingsOf = (
    places: ReturnType<typeof put>[],
    more: Partial<PlateOrder> = {},
    keepOuts: KeepOut[] = [],
  ) =>
    layPlates({
      sheets: [sheetOf(rectangle(0, 0, 100, 60), { keepOuts })],
      plates: [{ plate: small, sheet: "s", gap: 6, count: places.length, place: places, ...more }],
      widestCutter: 2,
    }).findings.map((f) => [f.code, f.severity]);

  it("are kept, flipped and turned as told, and the rest is laid round them", () => {
    const { value, findings } = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 100, 60))],
      plates: [{ plate: small, sheet: "s", gap: 6, count: 3, place: [put(40, 30, 90, true)] }],
      widestCutter: 2,
    });
    expect(findings).toEqual([]);
    const placements = value[0]?.placements ?? [];
    expect(placements.map((p) => p.copy)).toEqual([1, 2, 3]);
    // By hand: flipped (−20…0, 0…10), turned 90° (−10…0, −20…0), shifted.
    const box = bounds(placements[0]?.outer ?? { segments: [] });
    expect(box.min.x).toBeCloseTo(30, 9);
    expect(box.min.y).toBeCloseTo(10, 9);
    expect(box.max.x).toBeCloseTo(40, 9);
    expect(box.max.y).toBeCloseTo(30, 9);
  });

  it.each([
    ["apart", [put(10, 10), put(40, 10)], []],
    ["overlapping", [put(10, 10), put(25, 15)], [["place-overlap", "stop"]]],
    ["one in the other's cut", [put(10, 10), put(31.5, 10)], [["place-overlap", "stop"]]],
    ["with a loose strip between", [put(10, 10), put(32.5, 10)], [["place-near", "warn"]]],
    ["off the sheet", [put(90, 10)], [["place-outside", "stop"]]],
    ["on the edge", [put(80, 10)], [["place-outside", "stop"]]],
    ["beyond the sheet", [put(300, 10)], [["place-outside", "stop"]]],
    ["within the margin", [put(3, 10)], [["place-near-edge", "warn"]]],
  ])("%s", (_, places, expected) => {
    expect(findingsOf(places)).toEqual(expected);
  });

  it("on a clamp, beside it and in it", () => {
    const clamp: KeepOut = { kind: "disc", at: { x: 20, y: 15 }, diameter: 6 };
    expect(findingsOf([put(10, 10)], {}, [clamp])).toEqual([["place-on-keep-out", "stop"]]);
    expect(findingsOf([put(24, 10)], {}, [clamp])).toEqual([["place-on-keep-out", "stop"]]);
    expect(findingsOf([put(26, 10)], {}, [clamp])).toEqual([]);
  });

  it("across the fibres", () => {
    expect(findingsOf([put(40, 20, 90)], { fibreDeg: 0 })).toEqual([["place-off-fibre", "warn"]]);
    expect(findingsOf([put(40, 20, 180)], { fibreDeg: 0 })).toEqual([]);
    // Flipped, a direction of 30° becomes 150°; turned by 30° more it lies along the sheet.
    expect(findingsOf([put(60, 20, 30, true)], { fibreDeg: 30 })).toEqual([]);
  });

  it("in another's window", () => {
    const frame = plateOf("frame", rectangle(0, 0, 60, 40), [rectangle(10, 8, 50, 32)]);
    const { value, findings } = layPlates({
      sheets: [sheetOf(rectangle(0, 0, 100, 60))],
      plates: [
        { plate: small, sheet: "s", gap: 6, count: 1, place: [put(30, 25)] },
        { plate: frame, sheet: "s", gap: 6, count: 1, place: [put(10, 10)] },
      ],
      widestCutter: 2,
    });
    expect(findings).toEqual([]);
    expect(value[0]?.placements[0]?.inside).toEqual({ placement: 1, feature: 0 });
  });
});

describe("plates drawn inside another's window", () => {
  const frame = plateOf("frame", rectangle(0, 0, 60, 40), [rectangle(10, 8, 50, 32)]);
  const guest = (inset: number) => ({
    ...plateOf("guest", rectangle(10 + inset, 8 + inset, 50 - inset, 32 - inset)),
    drawing: frame.drawing,
    drawnInside: { plate: "frame", feature: 0 },
  });
  const layTwo = (inset: number, more: { host?: object; rider?: object } = {}) =>
    layPlates({
      sheets: [sheetOf(rectangle(0, 0, 300, 200))],
      plates: [
        { plate: guest(inset), sheet: "s", gap: 6, count: 1, ...more.rider },
        { plate: frame, sheet: "s", gap: 6, count: 1, ...more.host },
      ],
      widestCutter: 2,
    });

  it("ride where both cuts fit", () => {
    const { value, findings } = layTwo(5);
    expect(findings).toEqual([]);
    const [rider, host] = value[0]?.placements ?? [];
    expect(rider?.inside).toEqual({ placement: 1, feature: 0 });
    expect(rider?.plateToSheet).toEqual(host?.plateToSheet);
  });

  it("are placed by themselves where they do not", () => {
    const { value, findings } = layTwo(4.9);
    expect(findings.map((f) => [f.code, f.severity])).toEqual([["rider-too-tight", "note"]]);
    const [rider, host] = value[0]?.placements ?? [];
    expect(rider?.inside).toBeUndefined();
    expect(rider && host && shapeDistance(rider, host)).toBeGreaterThan(6 - SLOP);
  });

  it("turn their host along their own fibres", () => {
    const { value } = layTwo(6, { rider: { fibreDeg: 90 } });
    const angle = value[0]?.placements[1]?.plateToSheet.angle ?? 0;
    expect(Math.abs(Math.cos(angle))).toBeLessThan(1e-9);
  });

  it("do not ride across the host's fibres", () => {
    const { value, findings } = layTwo(6, { rider: { fibreDeg: 90 }, host: { fibreDeg: 0 } });
    expect(findings.map((f) => f.code)).toEqual(["rider-off-fibre"]);
    expect(value[0]?.placements.every((p) => p.inside === undefined)).toBe(true);
  });

  it("ride only as many as there are hosts", () => {
    const { value } = layTwo(6, { rider: { count: 3 }, host: { count: 2 } });
    const inside = value[0]?.placements.map((p) => p.inside?.placement);
    expect(inside).toEqual([3, 4, undefined, undefined, undefined]);
  });
});
