/**
 * What is taken away, against closed formulas, a published contour and the area of what a small job leaves.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { ProofProgram } from "../../src/core/proof/proof.ts";
import { covered, uncovered, whollyCovered } from "../../src/core/proof/removal/coverage.ts";
import {
  arcCurve,
  type Curve,
  distanceToPoint,
  lineCurve,
  xAt,
  yAt,
} from "../../src/core/proof/removal/curve.ts";
import { gapBetween } from "../../src/core/proof/removal/gap.ts";
import { insideRing } from "../../src/core/proof/removal/inside.ts";
import { levelOf, newLevels } from "../../src/core/proof/removal/level.ts";
import { joinRows, remainingRows, wholeRows } from "../../src/core/proof/removal/rows.ts";
import { below, type Stroke, strokesOf } from "../../src/core/proof/removal/stroke.ts";
import { exactArea } from "./support/area.ts";
import { cutter, sheet } from "./support/job.ts";

/** Swept area at a depth. */
function sweptArea(strokes: readonly Stroke[], z: number): number {
  return exactArea(levelOf(newLevels(strokes), z).strokes);
}

/** Area to be had from rims that count for one of two strokes within 1e-7 mm, mm². */
const AREA = 1e-4;

function strokesFrom(lines: readonly string[], diameter: number): Stroke[] {
  const head = ["G21 G90 G17 G94", "G0 Z5", "S9000 M3", "G4 P5"];
  const trace = readProgram("a.nc", [...head, ...lines, "G0 Z5", "M5", "M2"].join("\n"));
  expect(trace.findings).toEqual([]);
  const program: ProofProgram = {
    file: "a.nc",
    sheet: "sheet",
    cutter: { ...cutter, effectiveDiameter: diameter },
    trace,
  };
  return strokesOf(program, 0, sheet);
}

describe("area of slots against closed formulas", () => {
  test("straight: 2 R L + π R²", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: 0.4, max: 4, noNaN: true }),
        (length, turn, radius) => {
          const x = Number((length * Math.cos(turn)).toFixed(4));
          const y = Number((length * Math.sin(turn)).toFixed(4));
          const strokes = strokesFrom(["G0 X0 Y0", "G1 Z-1 F100", `X${x} Y${y}`], 2 * radius);
          const wanted = 2 * radius * Math.hypot(x, y) + Math.PI * radius ** 2;
          expect(Math.abs(sweptArea(strokes, -1) - wanted)).toBeLessThan(AREA);
        },
      ),
      { numRuns: 60 },
    );
  });

  test("arc: 2 R r θ + π R² where the cutter does not meet its own way", () => {
    for (const [r, degrees, radius] of [
      [10, 60, 1],
      [10, 250, 1.5],
      [3, 120, 0.985],
      [25, 7, 2],
    ] as const) {
      const angle = (degrees * Math.PI) / 180;
      const [x, y] = [r * Math.cos(angle), r * Math.sin(angle)].map((v) => v.toFixed(7));
      const strokes = strokesFrom(
        [`G0 X${r} Y0`, "G1 Z-1 F100", `G3 X${x} Y${y} I${-r} J0`],
        2 * radius,
      );
      const wanted = 2 * radius * r * angle + Math.PI * radius ** 2;
      expect(Math.abs(sweptArea(strokes, -1) - wanted)).toBeLessThan(AREA);
    }
  });

  test("full circle: a ring, or a disc where the cutter reaches over the centre", () => {
    for (const [r, radius] of [
      [10, 1],
      [2, 1.9],
      [1, 1],
      [0.6, 1.5],
    ] as const) {
      const strokes = strokesFrom([`G0 X${r} Y0`, "G1 Z-1 F100", `G2 X${r} Y0 I${-r}`], 2 * radius);
      const core = Math.max(0, r - radius);
      const wanted = Math.PI * ((r + radius) ** 2 - core ** 2);
      expect(Math.abs(sweptArea(strokes, -1) - wanted)).toBeLessThan(AREA);
    }
  });

  test("a ramp counts from where it crosses the depth, and so does a helix", () => {
    const ramp = strokesFrom(["G0 X0 Y0", "G1 Z0 F100", "X20 Z-2"], 2);
    for (const z of [-0.5, -1, -1.9]) {
      const length = 20 * (1 + z / 2);
      expect(Math.abs(sweptArea(ramp, z) - (2 * length + Math.PI))).toBeLessThan(AREA);
    }
    const helix = strokesFrom(["G0 X5 Y0", "G1 Z0 F100", "G2 X5 Y0 Z-2 I-5"], 2);
    for (const z of [-0.9, -1.4]) {
      const angle = 2 * Math.PI * (1 + z / 2);
      expect(Math.abs(sweptArea(helix, z) - (2 * 5 * angle + Math.PI))).toBeLessThan(AREA);
    }
  });
});

/** NISTIR 6556, App. B: the edge contour, and Table 13's path for a cutter of radius 0.5 round it. */
const NIST_EDGE: readonly Curve[] = [
  arcCurve([1, 4, 2, 3], 2, 4, 1, Math.PI / 2),
  arcCurve([2, 3, 3, 2], 2, 2, 1, -Math.PI / 2),
  lineCurve(3, 2, 3, -1),
  arcCurve([3, -1, 2, -2], 2, -1, 1, -Math.PI / 2),
  lineCurve(2, -2, -2, -2),
  arcCurve([-2, -2, -2.6, -0.2], -2, -1, 1, -(Math.PI / 2 + Math.asin(0.8))),
  lineCurve(-2.6, -0.2, 1.4, 2.8),
  arcCurve([1.4, 2.8, 2, 3], 2, 2, 1, -Math.acos(0.8)),
];

const NIST_PATH: readonly string[] = [
  "G0 X2 Y3.5",
  "G1 Z-1 F100",
  "G2 X3.5 Y2 J-1.5",
  "G1 Y-1",
  "G2 X2 Y-2.5 I-1.5",
  "G1 X-2",
  "G2 X-2.9 Y0.2 J1.5",
  "G1 X1.1 Y3.2",
  "G2 X2 Y3.5 I0.9 J-1.2",
];

describe("cutter compensation as published (NISTIR 6556, App. B, Tables 12 and 13)", () => {
  const strokes = strokesFrom(NIST_PATH, 1)
    .map((s) => below(s, -1))
    .filter((s): s is Stroke => s !== undefined && !s.rapid);
  // The closed part: the first arc leads in.
  const edge = NIST_EDGE.slice(1);

  test("the path swept by the cutter touches the edge and goes no further", () => {
    let nearest = Number.POSITIVE_INFINITY;
    for (const s of strokes) {
      for (const e of edge) nearest = Math.min(nearest, gapBetween(s.curve, e).distance);
    }
    expect(nearest).toBeCloseTo(0.5, 12);
    for (const s of strokes) {
      for (const t of [0, 0.3, 0.7, 1]) {
        expect(insideRing(edge, xAt(s.curve, t), yAt(s.curve, t))).toBe(false);
      }
    }
  });

  test("no stretch of the edge stays uncut", () => {
    for (const e of edge) {
      const left = uncovered(covered(e, strokes, 1e-9));
      expect(left.reduce((sum, g) => sum + (g.to - g.from) * e.length, 0)).toBeLessThan(1e-4);
    }
  });

  test("every place on the path is half a millimetre from the edge", () => {
    for (const s of strokes.filter((o) => o.curve.length > 0)) {
      for (let i = 0; i <= 20; i++) {
        const [x, y] = [xAt(s.curve, i / 20), yAt(s.curve, i / 20)];
        const d = Math.min(...edge.map((e) => distanceToPoint(e, x, y)));
        expect(d).toBeCloseTo(0.5, 9);
      }
    }
  });
});

describe("distances between curves", () => {
  const curve: fc.Arbitrary<Curve> = fc
    .record({
      arc: fc.boolean(),
      x: fc.double({ min: -5, max: 5, noNaN: true }),
      y: fc.double({ min: -5, max: 5, noNaN: true }),
      r: fc.double({ min: 0.1, max: 6, noNaN: true }),
      a: fc.double({ min: -3, max: 3, noNaN: true }),
      sweep: fc.double({ min: -6.28, max: 6.28, noNaN: true }).filter((s) => Math.abs(s) > 0.01),
    })
    .map(({ arc, x, y, r, a, sweep }) => {
      const at = (angle: number): [number, number] => [
        x + r * Math.cos(angle),
        y + r * Math.sin(angle),
      ];
      const [p, q] = [at(a), at(a + sweep)];
      return arc ? arcCurve([...p, ...q], x, y, r, sweep) : lineCurve(x, y, ...q);
    });

  test("no place of one is nearer to the other than the gap, and the gap's places are on both", () => {
    fc.assert(
      fc.property(curve, curve, (a, b) => {
        const gap = gapBetween(a, b);
        expect(distanceToPoint(a, gap.ax, gap.ay)).toBeLessThan(1e-6);
        expect(distanceToPoint(b, gap.bx, gap.by)).toBeLessThan(1e-6);
        for (let i = 0; i <= 60; i++) {
          const d = distanceToPoint(b, xAt(a, i / 60), yAt(a, i / 60));
          expect(d).toBeGreaterThan(gap.distance - 1e-7);
        }
      }),
    );
  });
});

const coordinate = fc.double({ min: -8, max: 8, noNaN: true });

/** A line, or an arc round a place, and a stroke beside it: how far, how much it falls short, how far its centre is off. */
const beside = fc
  .record({
    arc: fc.boolean(),
    x: coordinate,
    y: coordinate,
    r: fc.double({ min: 1.2, max: 6, noNaN: true }),
    a: fc.double({ min: -3, max: 3, noNaN: true }),
    sweep: fc.oneof(
      fc.double({ min: 0.1, max: 6.2, noNaN: true }),
      fc.double({ min: -6.2, max: -0.1, noNaN: true }),
      fc.constant(2 * Math.PI),
    ),
    off: fc.double({ min: -1.02, max: 1.02, noNaN: true }),
    short: fc.oneof(fc.constant(0), fc.double({ min: -0.3, max: 0.3, noNaN: true })),
    astray: fc.oneof(fc.constant(0), fc.double({ min: -2e-3, max: 2e-3, noNaN: true })),
  })
  .map(({ arc, x, y, r, a, sweep, off, short, astray }): [Curve, Curve] => {
    const round = (cx: number, radius: number, from: number, by: number): Curve => {
      const at = (t: number) => [cx + radius * Math.cos(t), y + radius * Math.sin(t)] as const;
      return arcCurve([...at(from), ...at(from + by)], cx, y, radius, by);
    };
    if (arc) {
      const less = Math.abs(sweep) > 6.25 ? 0 : short;
      return [round(x, r, a, sweep), round(x + astray, r + off, a + less, sweep - 2 * less)];
    }
    const [ux, uy] = [Math.cos(a), Math.sin(a)];
    const at = (t: number, by: number) => [x + ux * t - uy * by, y + uy * t + ux * by] as const;
    return [
      lineCurve(...at(0, 0), ...at(r, 0)),
      lineCurve(...at(short, off), ...at(r - short, off + astray)),
    ];
  });

test("what is covered lies within reach, also where strokes just touch, and what is not lies beyond", () => {
  // Halves and quarters, so that parallels at the very reach, shared ends and shared centres are common.
  const half = fc.integer({ min: -6, max: 6 }).map((n) => n / 2);
  const straight = fc
    .tuple(half, half, fc.constantFrom([1, 0], [0, 1], [0.6, 0.8]), fc.integer({ min: 1, max: 8 }))
    .map(([x, y, [ux = 0, uy = 0], n]) => lineCurve(x, y, x + (ux * n) / 2, y + (uy * n) / 2));
  const quarter = fc
    .tuple(half, half, fc.integer({ min: 1, max: 4 }), fc.integer({ min: 0, max: 3 }))
    .map(([cx, cy, n, turn]) => {
      const [a, b] = [turn, turn + 1].map((k) => [
        cx + (n / 2) * Math.round(Math.cos((k * Math.PI) / 2)),
        cy + (n / 2) * Math.round(Math.sin((k * Math.PI) / 2)),
      ]);
      const [x0 = 0, y0 = 0] = a ?? [];
      const [x1 = 0, y1 = 0] = b ?? [];
      return arcCurve([x0, y0, x1, y1], cx, cy, n / 2, Math.PI / 2);
    });
  const curve = fc.oneof(straight, quarter);
  fc.assert(
    fc.property(curve, curve, fc.integer({ min: 1, max: 4 }), (c, s, n) => {
      const reach = n / 2;
      const found = covered(c, [{ curve: s, radius: reach }], 0);
      for (let k = 1; k < 64; k++) {
        const t = k / 64;
        const beyond = distanceToPoint(s, xAt(c, t), yAt(c, t)) - reach;
        const inside = found.some(({ from, to }) => from <= t && t <= to);
        if (beyond > 1e-6) expect(inside).toBe(false);
        if (beyond < -1e-6) expect(inside).toBe(true);
      }
    }),
    { numRuns: 3000 },
  );
});

test("what the quick look takes for covered is covered, looked at exactly, and most of it is found", () => {
  let found = 0;
  let there = 0;
  fc.assert(
    fc.property(beside, ([c, s]) => {
      const stroke = { curve: s, radius: 1 };
      const quick = whollyCovered(c, stroke, 0.01);
      const open = uncovered(covered(c, [stroke], 0.01));
      if (quick) expect(open).toEqual([]);
      if (quick) found++;
      if (open.length === 0) there++;
    }),
    { numRuns: 1500 },
  );
  expect(there).toBeGreaterThan(300);
  expect(found).toBeGreaterThan(there * 0.6);
});

test("moves on one way share their curve, and no others do", () => {
  const lap = ["G1 X10 Y0", "G3 X10 Y4 I0 J2", "G1 X0 Y4", "G3 X0 Y0 I0 J-2"];
  const back = ["G2 X0 Y4 I0 J2", "G1 X10 Y4", "G2 X10 Y0 I0 J-2", "G1 X0 Y0"];
  const passes = ["G0 X0 Y0", "G1 Z-1 F100", ...lap, "G1 Z-2", ...lap, "G1 Z-3", ...back];
  const curves = strokesFrom(passes, 2).map((s) => s.curve);
  const [first, second, third] = [3, 8, 13].map((i) => curves.slice(i, i + 4));
  expect(first?.map((c) => c.length > 0)).toEqual([true, true, true, true]);
  second?.forEach((c, i) => {
    expect(c).toBe(first?.[i]);
  });
  expect(new Set([...(first ?? []), ...(third ?? [])]).size).toBe(8);
});

test("what strokes leave does not depend on whether they are taken one after another or at once", () => {
  const stroke = fc
    .tuple(coordinate, coordinate, coordinate, coordinate)
    .map((ends) => ({ curve: lineCurve(...ends), radius: 0.9 }));
  const some = fc.array(stroke, { minLength: 0, maxLength: 6 });
  fc.assert(
    fc.property(some, some, (a, b) => {
      const whole = wholeRows([-10, -10, 10, 10], 0.25);
      const atOnce = joinRows(remainingRows(whole, [...a, ...b]));
      const inTurn = joinRows(remainingRows(remainingRows(whole, a), b));
      expect(inTurn).toEqual(atOnce);
    }),
    { numRuns: 200 },
  );
});
