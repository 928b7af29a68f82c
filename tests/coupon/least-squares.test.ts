/** Least squares against certified values, and its laws; and what a coupon's numbers come to. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { couponFound, weightedMean } from "../../src/core/coupon/found.ts";
import { leastSquares, student95 } from "../../src/core/coupon/least-squares.ts";
import type { CouponMeasured } from "../../src/core/coupon/measurand.ts";

describe("a straight line through published data", () => {
  // NIST, Statistical Reference Datasets, linear regression, "Norris" (interlaboratory study, 1979–81): x, y. The data
  // are from memory; that they give the certified values to nine digits is what proves them.
  const DATA: readonly (readonly [number, number])[] = [
    [0.2, 0.1],
    [337.4, 338.8],
    [118.2, 118.1],
    [884.6, 888.0],
    [10.1, 9.2],
    [226.5, 228.1],
    [666.3, 668.5],
    [996.3, 998.5],
    [448.6, 449.1],
    [777.0, 778.9],
    [558.2, 559.2],
    [0.4, 0.3],
    [0.6, 0.1],
    [775.5, 778.1],
    [666.9, 668.8],
    [338.0, 339.3],
    [447.5, 448.9],
    [11.6, 10.8],
    [556.0, 557.7],
    [228.1, 228.3],
    [995.8, 998.0],
    [887.6, 888.8],
    [120.2, 119.6],
    [0.3, 0.3],
    [0.3, 0.6],
    [556.8, 557.6],
    [339.1, 339.3],
    [887.2, 888.0],
    [999.0, 998.5],
    [779.0, 778.9],
    [11.1, 10.2],
    [118.3, 117.6],
    [229.2, 228.9],
    [669.1, 668.4],
    [448.9, 449.2],
    [0.5, 0.2],
  ];
  const solved = leastSquares(
    DATA.map(([x]) => [1, x]),
    DATA.map(([, y]) => y),
  );

  test("gives the certified values", () => {
    expect(solved?.values[0]).toBeCloseTo(-0.262323073774029, 10);
    expect(solved?.values[1]).toBeCloseTo(1.00211681802045, 12);
  });

  test("and the certified standard errors", () => {
    expect(solved?.errors[0]).toBeCloseTo(0.232818234301152, 10);
    expect(solved?.errors[1]).toBeCloseTo(0.429796848199937e-3, 12);
    expect(solved?.deviation).toBeCloseTo(0.884796396144373, 10);
    expect(solved?.freedom).toBe(34);
  });
});

test("no other values leave less", () => {
  const number = fc.double({ min: -10, max: 10, noNaN: true });
  fc.assert(
    fc.property(
      fc.array(fc.tuple(number, number, number), { minLength: 4, maxLength: 12 }),
      fc.tuple(number, number, number),
      (data, by) => {
        const rows = data.map(([a, b], i) => [1, a + i, b]);
        const y = data.map(([, , c]) => c);
        const solved = leastSquares(rows, y);
        if (solved === undefined) return;
        const left = (x: readonly number[]) =>
          rows.reduce((s, r, i) => {
            const at = r.reduce((t, v, k) => t + v * (x[k] as number), 0);
            return s + (at - (y[i] as number)) ** 2;
          }, 0);
        const best = left(solved.values);
        const other = left(solved.values.map((v, k) => v + (by[k] as number) / 100));
        expect(best).toBeLessThanOrEqual(other * (1 + 1e-9) + 1e-9);
      },
    ),
  );
});

test("rows that do not tell an unknown are refused", () => {
  expect(leastSquares([[1, 2]], [1])).toBeUndefined();
  const same = [
    [1, 1],
    [2, 2],
    [3, 3],
  ];
  expect(leastSquares(same, [1, 2, 3])).toBeUndefined();
});

test("Student's t for 95 % (any table of statistics)", () => {
  expect([1, 5, 10, 20].map(student95)).toEqual([12.706, 2.571, 2.228, 2.086]);
  expect(student95(100)).toBeGreaterThan(1.984);
});

const base: CouponMeasured = {
  plannedDiameter: 2,
  thickness: 2,
  wanted: 0.1,
  gauge: 8,
  walls: [],
  slots: [0, 0.05, 0.1, 0.15, 0.2].map((c, i) => ({ number: i + 1, drawn: 2 + c, clearance: c })),
  tongues: [0, 0.05, 0.1, 0.15, 0.2].map((c, i) => ({ number: i + 1, drawn: 8 - c, clearance: c })),
};

/** What a machine of these scales with this cutter leaves, with an error on each. */
function walls(
  sx: number,
  sy: number,
  d: number,
  noise: readonly number[],
): CouponMeasured["walls"] {
  const rows = [
    ["A", "x", "inside", 125],
    ["B", "x", "inside", 25],
    ["C", "y", "inside", 25],
    ["D", "y", "inside", 50],
    ["E", "x", "outside", 141],
    ["F", "y", "outside", 74],
  ] as const;
  return rows.map(([id, axis, side, drawn], i) => {
    const s = axis === "x" ? sx : sy;
    const clean = side === "inside" ? s * (drawn - 2) + d : s * (drawn + 2) - d;
    return { id, axis, side, drawn, measured: clean + (noise[i] as number) };
  });
}

test("whatever the machine, it is found to within what is said of the uncertainty or a little more", () => {
  const scale = fc.double({ min: 0.99, max: 1.01, noNaN: true });
  const noise = fc.array(fc.double({ min: -0.005, max: 0.005, noNaN: true }), {
    minLength: 6,
    maxLength: 6,
  });
  fc.assert(
    fc.property(
      scale,
      scale,
      fc.double({ min: 1.8, max: 2.1, noNaN: true }),
      noise,
      (sx, sy, d, n) => {
        const { value } = couponFound({ ...base, walls: walls(sx, sy, d, n) });
        expect(Math.abs((value?.scaleX.value ?? 0) - sx)).toBeLessThan(2e-4);
        expect(Math.abs((value?.scaleY.value ?? 0) - sy)).toBeLessThan(5e-4);
        expect(Math.abs((value?.diameter.value ?? 0) - d)).toBeLessThan(0.012);
        expect(value?.diameter.plusMinus).toBeGreaterThan(0);
      },
    ),
  );
});

describe("the fit", () => {
  const clean = walls(1, 1, 1.96, [0, 0, 0, 0, 0, 0]);

  test("with a thin cutter slots come out narrow: what felt right was narrower than it was drawn", () => {
    // Slot 3 was drawn with 0.1 in all; a cutter of 1.96 makes it 0.04 narrower, and that felt right.
    const { value } = couponFound({ ...base, walls: clean, bestSlot: 3 });
    expect(value?.fitOffset?.value).toBeCloseTo(-0.04, 9);
    // Half a step, at least.
    expect(value?.fitOffset?.plusMinus).toBeGreaterThanOrEqual(0.025);
  });

  test("between two slots it is between their sizes; slot and tongue are weighed", () => {
    const half = couponFound({ ...base, walls: clean, bestSlot: 2.5 }).value?.fitOffset;
    expect(half?.value).toBeCloseTo(-0.065, 9);
    const both = couponFound({ ...base, walls: clean, bestSlot: 3, bestTongue: 3 }).value
      ?.fitOffset;
    // Tongue 3: window 7.96 + … drawn 8 − 0.04, tongue 7.9 + 0.04: real room 0.02, 0.08 under what was wanted.
    expect(both?.value).toBeLessThan(-0.04);
    expect(both?.value).toBeGreaterThan(-0.08);
    expect(both?.plusMinus).toBeLessThan(half?.plusMinus ?? 0);
  });

  test("two equal measures weigh the same", () => {
    const mean = weightedMean([
      { value: 1, plusMinus: 0.2 },
      { value: 2, plusMinus: 0.2 },
    ]);
    expect(mean.value).toBeCloseTo(1.5, 12);
    expect(mean.plusMinus).toBeCloseTo(0.2 / Math.SQRT2, 12);
  });
});

describe("what cannot be", () => {
  test("too few walls", () => {
    const few = walls(1, 1, 2, [0, 0, 0, 0, 0, 0]).filter((w) => w.axis === "x");
    const { value, findings } = couponFound({ ...base, walls: few });
    expect(value).toBeUndefined();
    expect(findings.map((f) => [f.code, f.severity])).toEqual([["coupon-too-few", "stop"]]);
  });

  test("a slip of the hand is named", () => {
    const { findings } = couponFound({ ...base, walls: walls(1, 1, 2, [0, 0, 0, 0, 0, 0.9]) });
    expect(findings.map((f) => [f.code, f.severity])).toContainEqual(["coupon-slip", "stop"]);
  });

  test("a scale that no machine has", () => {
    const { findings } = couponFound({ ...base, walls: walls(1.025, 1, 2, [0, 0, 0, 0, 0, 0]) });
    expect(findings.map((f) => [f.code, f.severity])).toEqual([["coupon-scale-wild", "stop"]]);
  });

  test.each([
    ["ten times", 10],
    ["a tenth", 0.1],
    ["inches", 1 / 25.4],
  ])("one measure typed as %s is named alone", (_, factor) => {
    const given = walls(1, 1, 2, [0, 0, 0, 0, 0, 0]);
    given.forEach((w, i) => {
      const mistyped = given.map((v, k) => (k === i ? { ...v, measured: factor * v.measured } : v));
      const { value, findings } = couponFound({ ...base, walls: mistyped });
      expect(value).toBeUndefined();
      expect(findings.map((f) => [f.code, f.severity, f.data["id"]])).toEqual([
        ["coupon-wall-wild", "stop", w.id],
      ]);
      expect(findings[0]?.hint).toBeTruthy();
    });
  });

  test("all of them in inches", () => {
    const inches = walls(1, 1, 2, [0, 0, 0, 0, 0, 0]).map((w) => ({
      ...w,
      measured: w.measured / 25.4,
    }));
    const { findings } = couponFound({ ...base, walls: inches });
    expect(new Set(findings.map((f) => f.code))).toEqual(new Set(["coupon-wall-wild"]));
    expect(findings.length).toBe(inches.length);
  });

  test("a slot that is not there, and a thickness with its point in the wrong place", () => {
    const good = walls(1, 1, 2, [0, 0, 0, 0, 0, 0]);
    const none = couponFound({ ...base, walls: good, bestSlot: 9 });
    expect(none.findings.map((f) => [f.code, f.severity])).toEqual([["coupon-no-step", "stop"]]);
    const thick = { ...base, thickness: 10 * base.thickness };
    const wild = couponFound({ ...thick, walls: good, bestSlot: 3 });
    expect(wild.findings.map((f) => [f.code, f.severity])).toEqual([["coupon-fit-wild", "stop"]]);
  });
});
