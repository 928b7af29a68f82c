import { describe, expect, it } from "vitest";
import { bounds, rectangle } from "../../src/core/geometry/contour.ts";
import type { KeepOut } from "../../src/core/layout/layout.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import type { PlateOrder } from "../../src/core/layout/riders.ts";
import { demoPlate, ORACLE_TOLERANCE, plateOf, shapeDistance, sheetOf } from "./support.ts";

/** Chords against exact arcs on two contours, and the last digits. */
const SLOP = 2 * ORACLE_TOLERANCE + 1e-5;

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
