/** Worked examples as their sources print them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as f from "../../src/core/cutting/physics/formulas.ts";
import { secondMoment, tipDeflection } from "../../src/core/cutting/physics/strength.ts";

/** Within a share of the printed value: printed figures are rounded. */
function near(value: number, printed: number, share: number): void {
  expect(Math.abs(value / printed - 1)).toBeLessThanOrEqual(share);
}

const FOOT_PER_MIN = 0.3048;
const INCH = 25.4;

describe("Mitsubishi Materials, Technical Information", () => {
  test("Formulas for Milling: D 125, n 350 is 137.4 m/min", () => {
    near(f.surfaceSpeed(350, 125), 137.4, 0.001);
  });
  test("vf 500, z 10, n 500 is 0.1 mm a tooth", () => {
    expect(f.feedPerTooth(500, 10, 500)).toBeCloseTo(0.1, 12);
  });
  test("fz 0.25, z 16, n 200 is 800 mm/min; 500 mm take 0.625 min", () => {
    expect(f.tableFeed(0.25, 16, 200)).toBeCloseTo(800, 9);
    expect(f.minutesOf(500, 800)).toBeCloseTo(0.625, 12);
  });
  test("Cutting Power: vc 80, D 250, vf 280, z 12", () => {
    near(f.spindleSpeed(80, 250), 101.91, 0.005);
    near(f.feedPerTooth(280, 12, 101.91), 0.228, 0.005);
  });
  test("ap 2, ae 80, vf 280, kc 1800, η 0.8 is 1.68 kW", () => {
    near(f.cuttingPowerKw(f.removalRate(80, 2, 280), 1800, 0.8), 1.68, 0.001);
  });
  test("end-mill course: overhang doubled bends ×8, diameter doubled ×1/16", () => {
    const y = tipDeflection(20, 14, 2);
    expect(tipDeflection(20, 28, 2) / y).toBeCloseTo(8, 9);
    expect(tipDeflection(20, 14, 4) / y).toBeCloseTo(1 / 16, 12);
    // F L³ ÷ (3 E I) with I = π d⁴ ÷ 64 at d = 1.6: by hand.
    expect(y).toBeCloseTo((20 * 2744) / (3 * 600_000 * 0.321_699), 6);
    expect(secondMoment(1.6)).toBeCloseTo(0.321_699, 6);
  });
});

test("Ingersoll 2011 p. 453: 450 ft/min, 0.375 in, z 4, fz 0.004 in, ap 0.125, ae 0.10", () => {
  const n = f.spindleSpeed(450 * FOOT_PER_MIN, 0.375 * INCH);
  near(n, 4584, 0.001);
  const feed = f.tableFeed(0.004, 4, n);
  near(feed, 73.3, 0.001);
  near(f.removalRate(0.1, 0.125, feed), 0.91, 0.01);
  // Printed with one digit.
  expect(f.meanChipApproximate(0.004, 0.1 / 0.375)).toBeCloseTo(0.002, 3);
});

describe("chip thinning, Dormer Pramet 2021–22 p. 114", () => {
  test.each([
    [5, 2.29],
    [10, 1.67],
    [15, 1.4],
    [20, 1.25],
    [25, 1.15],
    [30, 1.09],
    [40, 1.02],
    [50, 1],
    [80, 1],
  ])("ae/D %d %%: %d", (percent, k) => near(f.chipThinning(percent / 100), k, 0.005));
});

test("El-Hofy, Fundamentals of Machining Processes, 2nd ed. 2013 p. 189", () => {
  const n = 120 / (0.1 * 8);
  expect(n).toBeCloseTo(150, 9);
  near(f.surfaceSpeed(n, 30), 14.13, 0.005);
  // Cutter and length of 300, with the way in and out of a cut 4 mm deep: √(d (D − d)) at each end.
  near(f.minutesOf(300 + 2 * Math.sqrt(4 * (30 - 4)), 120), 2.68, 0.005);
  near(f.cuttingPowerKw(f.removalRate(30, 4, 120), 1000, 1), 0.24, 0.005);
});

test("Ghosh & Mallik, Manufacturing Science, Ex. 4.16 (book from memory, 90 %): 817 W", () => {
  const chip = f.meanChipApproximate(f.feedPerTooth(100, 10, 60), 5 / 75);
  const u = f.sizeEffect(1.4, chip, 0.4);
  near(f.powerFromEnergy(u, f.removalRate(20, 5, 100)), 817, 0.01);
});

test("Kalpakjian & Schmid, Ex. 24.1 (from memory, 95 %)", () => {
  const feed = f.tableFeed(0.25, 20, 100);
  near(feed, 500, 0.005);
  const q = f.removalRate(100, 3.2, feed);
  near(q, 160_000, 0.005);
  const power = f.powerFromEnergy(3, q);
  near(power, 8000, 0.005);
  near(f.torque(power, 100), 764, 0.005);
  near(f.minutesOf(300, feed), 0.625, 0.05);
});

test("SGS PCR catalogue p. 4: 400 ft/min, 1/8 in, 0.0024 in/rev", () => {
  const n = f.spindleSpeed(400 * FOOT_PER_MIN, INCH / 8);
  near(n, 12_224, 0.003);
  near(0.0024 * n, 29.4, 0.003);
});

describe("feed of the centre, Sandvik threading catalogue p. 117; Yamawa 2022–23 p. 1228", () => {
  test("bore 10 with a cutter of 5: ×0.5; bore 3.2 with 2: ×0.375", () => {
    expect(f.boreFeed(800, 5, 2.5)).toBeCloseTo(400, 12);
    expect(f.boreFeed(800, 1.6, 1)).toBeCloseTo(300, 12);
  });
  test("a bore that the cutter fills has no feed; a wall far away changes nothing", () => {
    expect(f.boreFeed(800, 1, 1)).toBe(0);
    expect(f.boreFeed(800, 1e9, 1)).toBeCloseTo(800, 5);
    expect(f.bossFeed(800, 1e9, 1)).toBeCloseTo(800, 5);
  });
  test("edge at the wall keeps its speed, whichever side", () => {
    const size = fc.double({ min: 0.5, max: 50, noNaN: true });
    fc.assert(
      fc.property(size, size, (wall, cutter) => {
        fc.pre(wall > cutter * 1.001);
        // Same angular speed: wall speed ÷ wall radius is centre speed ÷ centre radius.
        expect(f.boreFeed(600, wall, cutter) / (wall - cutter)).toBeCloseTo(600 / wall, 8);
        expect(f.bossFeed(600, wall, cutter) / (wall + cutter)).toBeCloseTo(600 / wall, 8);
      }),
    );
  });
});

describe("chips", () => {
  test("the mean over the engaged angle is 2/π of the feed in a slot, and Ingersoll's in a light cut", () => {
    expect(f.meanChip(0.02, 1)).toBeCloseTo((0.02 * 2) / Math.PI, 12);
    near(f.meanChip(0.02, 0.01), f.meanChipApproximate(0.02, 0.01), 0.01);
  });
  test("the mean chip by summing slices of the engaged angle", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1, noNaN: true }), (q) => {
        const end = Math.acos(1 - 2 * q);
        let sum = 0;
        for (let i = 0; i < 500; i++) sum += Math.sin(((i + 0.5) / 500) * end) / 500;
        expect(f.meanChip(0.1, q)).toBeCloseTo(0.1 * sum, 6);
      }),
    );
  });
  test("thinning undoes the thin chip", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.005, max: 1, noNaN: true }), (q) => {
        expect(f.chipThinning(q) * f.thickestChipRatio(q)).toBeCloseTo(1, 12);
        expect(f.chipThinning(q)).toBeGreaterThanOrEqual(1);
      }),
    );
  });
});

test("rubbing: half the circumference for each feed of a revolution, counted tooth by tooth", () => {
  // Two teeth: a metre takes 1000 ÷ (0.02 · 2) turns, each of which draws each tooth through half a circle.
  const turns = 1000 / (0.02 * 2);
  expect(f.rubbingPerMetre(2, 0.04)).toBeCloseTo((turns * Math.PI * 2) / 2, 6);
});

test("force, power and torque are one another's", () => {
  const power = 66.6;
  const n = 12_030;
  const force = f.tangentialForce(power, f.surfaceSpeed(n, 3.175));
  expect(f.torque(power, n) * 1000).toBeCloseTo((force * 3.175) / 2, 9);
});
