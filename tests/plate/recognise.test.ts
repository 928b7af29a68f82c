/** Plates out of loops: what is a plate and what a hole, slot, window or recess in it, by geometry alone. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Drawing, Loop } from "../../src/core/drawing/drawing.ts";
import { bounds, isCircle, placeContour, signedArea } from "../../src/core/geometry/contour.ts";
import { circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Segment } from "../../src/core/geometry/shape.ts";
import { type RecogniseOptions, recognise } from "../../src/core/plate/recognise.ts";

function drawingOf(loops: readonly (Contour | Loop)[]): Drawing {
  return {
    file: "p.dxf",
    format: "dxf",
    units: { declared: "mm", used: "mm", factor: 1, assumed: false },
    bounds: { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } },
    loops: loops.map((l) => ("contour" in l ? l : { contour: l, layer: "0" })),
    openChains: [],
    ignored: [],
    repairs: [],
    findings: [],
  };
}

const plates = (loops: readonly (Contour | Loop)[], options: RecogniseOptions = {}) =>
  recognise(drawingOf(loops), "p", options);

function rectangle(x: number, y: number, w: number, h: number): Contour {
  const p = [
    { x, y },
    { x: x + w, y },
    { x: x + w, y: y + h },
    { x, y: y + h },
  ] as const;
  return { segments: p.map((a, i) => line(a, p[(i + 1) % 4] as (typeof p)[0])) };
}

const round = (x: number, y: number, r: number): Contour => ({
  segments: [circle({ x, y }, r, true)],
});

/** Between the centres of its half circles `d`, `w` wide, turned. */
function slot(d: number, w: number, angle = 0): Contour {
  const r = w / 2;
  const half = (x: number, sign: number): Segment => ({
    kind: "arc",
    from: { x, y: -sign * r },
    to: { x, y: sign * r },
    centre: { x, y: 0 },
    radius: r,
    sweep: Math.PI,
  });
  const [a, b] = [half(d / 2, 1), half(-d / 2, -1)];
  const flat: Contour = { segments: [a, line(a.to, b.from), b, line(b.to, a.from)] };
  return placeContour(flat, { x: 0, y: 0, angle, flipped: false });
}

describe("kinds", () => {
  const host = rectangle(-60, -60, 120, 120);
  const featureOf = (c: Contour) => plates([host, c]).value[0]?.features[0];

  test("a full circle is a hole, whole or of arcs", () => {
    expect(featureOf(round(3, 4, 1.6))).toMatchObject({
      kind: "hole",
      at: { x: 3, y: 4 },
      diameter: 3.2,
    });
    const two = placeContour(
      { segments: slot(1e-9, 5).segments.filter((s) => s.kind === "arc") },
      { x: 3, y: 4, angle: 1, flipped: true },
    );
    expect(featureOf(two)).toMatchObject({ kind: "hole", diameter: expect.closeTo(5, 3) });
  });

  test("slots at any angle: across, over all, direction of the long side in [0, π)", () => {
    const length = fc.double({ min: 1, max: 40, noNaN: true });
    const width = fc.double({ min: 0.5, max: 12, noNaN: true });
    fc.assert(
      fc.property(
        length,
        width,
        fc.double({ min: 0, max: Math.PI - 1e-6, noNaN: true }),
        (d, w, angle) => {
          const f = featureOf(slot(d, w, angle));
          expect(f).toMatchObject({
            kind: "slot",
            at: { x: expect.closeTo(0, 3), y: expect.closeTo(0, 3) },
            width: expect.closeTo(w, 3),
            length: expect.closeTo(d + w, 3),
          });
          const off = Math.abs((f?.angle ?? 0) - angle);
          // Ends come to the grid: a short slot's direction by a little.
          expect(Math.min(off, Math.PI - off)).toBeLessThan(3e-4 / d + 1e-9);
          // The grid moves each edge by half of 0.1 µm at most.
          const around = 2 * d + Math.PI * w;
          expect(Math.abs((f?.area ?? 0) - d * w - (Math.PI * w * w) / 4)).toBeLessThan(
            1e-4 * around,
          );
        },
      ),
    );
  });

  test.each([
    ["a rectangle", rectangle(0, 0, 10, 5)],
    ["a slot with one flat end", { segments: slotWithFlatEnd() }],
    ["a dog bone: half circles bulging in", { segments: inward() }],
  ])("%s is a window", (_, c) => {
    expect(featureOf(c)).toMatchObject({ kind: "window" });
    expect(featureOf(c)?.diameter).toBeUndefined();
  });

  function slotWithFlatEnd(): Segment[] {
    const [a, top, , bottom] = slot(10, 4).segments as [Segment, Segment, Segment, Segment];
    return [a, top, line(top.to, bottom.from), bottom];
  }

  function inward(): Segment[] {
    return slot(20, 4).segments.map((s) => (s.kind === "arc" ? { ...s, sweep: -Math.PI } : s));
  }
});

describe("plates", () => {
  test("outer contours run counter-clockwise and holes clockwise, however they were drawn", () => {
    const back = (c: Contour) => placeContour(c, { x: 0, y: 0, angle: 0, flipped: true });
    for (const draw of [(c: Contour) => c, back]) {
      const [plate] = plates(
        [rectangle(-20, -10, 40, 20), slot(6, 3), round(12, 0, 2)].map(draw),
      ).value;
      expect(signedArea(plate?.outer as Contour)).toBeGreaterThan(0);
      for (const f of plate?.features ?? []) expect(signedArea(f.contour)).toBeLessThan(0);
      expect(plate?.features.map((f) => f.id)).toEqual([0, 1]);
      expect(plate?.area).toBeCloseTo(800 - 18 - 2.25 * Math.PI - 4 * Math.PI, 3);
    }
  });

  test("are named by their lower left corners, X first; one alone has the drawing's name", () => {
    const { value } = plates([
      rectangle(50, 0, 5, 5),
      rectangle(0, 9, 5, 5),
      rectangle(0, 2, 5, 5),
    ]);
    expect(value.map((p) => [p.name, bounds(p.outer).min])).toEqual([
      ["p-1", { x: 0, y: 2 }],
      ["p-2", { x: 0, y: 9 }],
      ["p-3", { x: 50, y: 0 }],
    ]);
    expect(plates([rectangle(0, 0, 5, 5)]).value.map((p) => p.name)).toEqual(["p"]);
  });

  test("inside a window of another know it", () => {
    const { value } = plates([
      rectangle(0, 0, 60, 60),
      rectangle(10, 10, 40, 40),
      rectangle(20, 20, 10, 10),
      round(25, 25, 2),
    ]);
    expect(value.map((p) => [p.name, p.features.length, p.drawnInside])).toEqual([
      ["p-1", 1, undefined],
      ["p-2", 1, { plate: "p-1", feature: 0 }],
    ]);
  });

  test("depth, by rings of any number in any order", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), fc.infiniteStream(fc.nat()), (n, keys) => {
        const rings = Array.from({ length: n }, (_, i) => ({
          c: round(0, 0, 5 + 3 * i),
          key: keys.next().value as number,
        }));
        rings.sort((a, b) => a.key - b.key);
        const { value } = plates(rings.map((r) => r.c));
        expect(value.length).toBe(Math.ceil(n / 2));
        const area = Array.from(
          { length: n },
          (_, i) => Math.PI * (5 + 3 * i) ** 2 * ((n - i) % 2 === 1 ? 1 : -1),
        );
        expect(value.reduce((sum, p) => sum + p.area, 0)).toBeCloseTo(
          area.reduce((a, b) => a + b, 0),
          4,
        );
      }),
    );
  });

  test("coordinates lie on the grid of 0.1 µm, straight neighbours are one, circles stay circles", () => {
    const c: Contour = {
      segments: [
        line({ x: 0.00004, y: 0 }, { x: 3.3333333, y: 0 }),
        line({ x: 3.3333333, y: 0 }, { x: 10, y: 0 }),
        line({ x: 10, y: 0 }, { x: 10, y: 10 }),
        line({ x: 10, y: 10 }, { x: 0.00004, y: 0 }),
      ],
    };
    const [plate] = plates([c, round(7.77777777, 3.1111111, 1)]).value;
    expect(plate?.outer.segments.map((s) => s.from)).toEqual([
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
    ]);
    expect(isCircle(plate?.features[0]?.contour as Contour)).toBe(true);
    expect(plate?.features[0]?.at).toEqual({ x: 7.7778, y: 3.1111 });
  });
});

describe("recesses", () => {
  const host = rectangle(0, 0, 60, 40);
  const pocket = { contour: rectangle(10, 10, 8, 8), layer: "Pocket" };

  test("are loops on their layer, by whatever spelling, and are no holes", () => {
    const [plate] = plates([host, pocket, round(40, 20, 2)], { recess: { POCKET: 1 } }).value;
    expect(plate?.features).toMatchObject([
      { kind: "hole" },
      { kind: "recess", depth: 1, area: 64 },
    ]);
    expect(plate?.area).toBeCloseTo(2400 - 4 * Math.PI, 4);
  });

  test("outside every plate are told", () => {
    const far = { contour: rectangle(100, 10, 8, 8), layer: "POCKET" };
    const { value, findings } = plates([host, far], { recess: { Pocket: 1 } });
    expect(value[0]?.features).toEqual([]);
    expect(findings).toMatchObject([{ code: "recess-outside", severity: "warn", at: [100, 10] }]);
  });
});

test("a speck below the grid vanishes, and is told", () => {
  const { value, findings } = plates([rectangle(0, 0, 9, 9), rectangle(3, 3, 0.00004, 0.00004)]);
  expect([value.length, value[0]?.features.length]).toEqual([1, 0]);
  expect(findings.map((f) => f.code)).toEqual(["loop-vanishes"]);
});
