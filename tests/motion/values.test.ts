/** Closed values of acceleration-limited motion. */
import { describe, expect, test } from "vitest";
import {
  changeLength,
  jerkSeconds,
  reachWithJerk,
  trapezoidSeconds,
} from "../../src/core/motion/profile.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import { arcTo, go, machine, trace, type Xyz } from "./program.ts";

describe("trapezoid, V 50 mm/s, a 500 mm/s²: T = L/V + V/a, or 2√(L/a) where V is not reached", () => {
  test.each([
    [100, 2.1],
    [10, 0.3],
    [5, 0.2],
    [1, 0.0894427],
    [0.1, 0.0282843],
  ])("%d mm", (length, seconds) => {
    expect(trapezoidSeconds({ length, speed: 50, acceleration: 500 }, 0, 0)).toBeCloseTo(
      seconds,
      6,
    );
    const run = timeOf(trace(go([0, 0, 0], [{ to: [length, 0, 0] }])), machine());
    expect(run.seconds).toBeCloseTo(seconds, 6);
  });
});

test("S-curve: L 10, v0 1, v1 0, V 5, a 10, J 30 takes 2.71 s (Biagiotti & Melchiorri 2008, sec. 3.4)", () => {
  const block = { length: 10, speed: 5, acceleration: 10 };
  expect(jerkSeconds(block, 30, 1, 0)).toBeCloseTo(2.71, 6);
});

test("what jerk lets reach ends exactly at the block's end", () => {
  const block = { length: 0.4, speed: 50, acceleration: 100 };
  const v = reachWithJerk(3, 50, block, 2000);
  expect(v).toBeGreaterThan(3);
  expect(changeLength(3, v, 100, 2000)).toBeCloseTo(0.4, 9);
});

describe("square of 100 mm at 3000 mm/min, a 500, deviation 0.01", () => {
  const corners: Xyz[] = [
    [100, 0, 0],
    [100, 100, 0],
    [0, 100, 0],
    [0, 0, 0],
  ];
  const square = trace(
    go(
      [0, 0, 0],
      corners.map((to) => ({ to })),
    ),
  );

  test("8.35976 s with the corner rule", () => {
    expect(timeOf(square, machine()).seconds).toBeCloseTo(8.35976, 5);
  });
  test("8.4 s with full stops: no deviation, and also a controller that sees one block", () => {
    expect(timeOf(square, machine({ junctionDeviation: 0 })).seconds).toBeCloseTo(8.4, 9);
    expect(timeOf(square, machine(), { lookAhead: 1 }).seconds).toBeCloseTo(8.4, 9);
  });
});

describe("speed of corners (S. Jeon, 2011), seen in the time of two long lines", () => {
  const { cos, sin, PI } = Math;
  const rows: readonly (readonly [number, number, number, number])[] = [
    [500, 0.01, 10, 36.179],
    [500, 0.01, 30, 11.905],
    [500, 0.01, 45, 7.79],
    [500, 0.01, 60, 5.685],
    [500, 0.01, 90, 3.474],
    [500, 0.01, 120, 2.236],
    [500, 0.01, 150, 1.321],
    [50, 0.01, 90, 1.099],
    [1000, 0.05, 90, 10.987],
  ];
  test.each(rows)("a %d, deviation %d, change of %d°: %d mm/s", (a, deviation, deg, corner) => {
    const turn = (deg * PI) / 180;
    const feed = 3000;
    // Symmetrical about Y, so that both lines and the corner meet the same axis.
    const start: Xyz = [0, 0, 0];
    const middle: Xyz = [100, 0, 0];
    const end: Xyz = [100 + 100 * cos(turn), 100 * sin(turn), 0];
    const first = timeOf(
      trace(
        go(start, [
          { to: middle, feed },
          { to: end, feed },
        ]),
      ),
      machine({ acceleration: [a, a, a], junctionDeviation: deviation }),
    ).stepSeconds[0] as number;
    // Braking from 50 mm/s to v takes (50 − v)/a, on average at (50 + v)/2: solved for v.
    const v = 50;
    const excess = first - 100 / v - v / (2 * a);
    expect(v - Math.sqrt(excess * 2 * a * v)).toBeCloseTo(corner, 3);
  });
});

describe("arcs", () => {
  test("a full circle never runs faster than √(a r)", () => {
    const from: Xyz = [2, 0, 0];
    const circle = { ...arcTo(from, [0, 0], 2 * Math.PI), feed: 6000 };
    const v = Math.sqrt(500 * 2);
    const seconds = timeOf(trace(go(from, [circle])), machine()).seconds;
    expect(seconds).toBeCloseTo((2 * Math.PI * 2) / v + v / 500, 9);
  });
  test("one turn of a helix of radius 10 and 5 mm down is 63.0305 mm long", () => {
    const from: Xyz = [10, 0, 0];
    const run = timeOf(trace(go(from, [arcTo(from, [0, 0], 2 * Math.PI, -5)])), machine());
    expect(run.cutMetres * 1000).toBeCloseTo(63.0305, 4);
    expect(run.byMotion.ramp).toBeCloseTo(run.seconds, 12);
  });
  test("a tangent arc between two lines is not slowed as a corner", () => {
    const quarter = arcTo([100, 0, 0], [100, 20], Math.PI / 2);
    const moves = go([0, 0, 0], [{ to: [100, 0, 0] }, quarter, { to: [120, 120, 0] }]);
    const run = timeOf(trace(moves), machine());
    const length = 200 + (Math.PI / 2) * 20;
    expect(run.seconds).toBeCloseTo(length / 50 + 50 / 500, 6);
  });
});

test("each axis has its own rate and acceleration", () => {
  const slow = machine({ maxFeed: [6000, 6000, 300], acceleration: [500, 500, 50] });
  const down = timeOf(trace(go([0, 0, 10], [{ to: [0, 0, 0], rapid: true }])), slow);
  expect(down.seconds).toBeCloseTo(10 / 5 + 5 / 50, 9);
  expect(down.rapidMetres).toBeCloseTo(0.01, 12);
  // 3-4-5: X has 0.6 of the direction, Y 0.8.
  const skew = timeOf(
    trace(go([0, 0, 0], [{ to: [60, 80, 0], rapid: true }])),
    machine({ maxFeed: [600, 1200, 600], acceleration: [30, 80, 10] }),
  );
  const v = Math.min(10 / 0.6, 20 / 0.8);
  const a = Math.min(30 / 0.6, 80 / 0.8);
  expect(skew.seconds).toBeCloseTo(100 / v + v / a, 9);
});

test("a block takes at least its share of the block rate", () => {
  const short = Array.from({ length: 100 }, (_, i) => ({ to: [0.1 * (i + 1), 0, 0] as Xyz }));
  const run = timeOf(trace(go([0, 0, 0], short)), machine({ blocksPerSecond: 250 }));
  // 0.1 mm at 250 blocks a second is 25 mm/s at most.
  expect(run.seconds).toBeCloseTo(10 / 25 + 25 / 500, 6);
});

test("a controller that sees few blocks of a dense line slows for it", () => {
  const dense = Array.from({ length: 1000 }, (_, i) => ({ to: [0.1 * (i + 1), 0, 0] as Xyz }));
  const fast = machine({ acceleration: [500, 500, 500] });
  const run = timeOf(trace(go([0, 0, 0], dense)), fast, { lookAhead: 15 });
  // Entering a block it must be able to stop within 14: v ≤ √(2·500·1.4), 37.42 mm/s.
  const v = Math.sqrt(2 * 500 * 1.4);
  expect(run.seconds).toBeGreaterThan(100 / 50 + 0.1);
  expect(run.seconds).toBeLessThan(100 / v + v / 500 + 0.01);
});

test("dwells, stops and spindle changes bring the machine to rest and count what they take", () => {
  const a = go([0, 0, 0], [{ to: [50, 0, 0] }]);
  const b = go([50, 0, 0], [{ to: [100, 0, 0] }], 3);
  const through = timeOf(trace([...a, ...b]), machine()).seconds;
  const dwell = timeOf(trace([...a, { kind: "dwell", line: 2, seconds: 3 }, ...b]), machine());
  expect(dwell.dwellSeconds).toBe(3);
  expect(dwell.seconds - 3).toBeCloseTo(through + 50 / 500, 9);
  const change = timeOf(trace([...a, { kind: "spindle-on", line: 2, rpm: 9000 }, ...b]), machine());
  expect(change.seconds).toBeCloseTo(dwell.seconds - 3, 12);
});
