/** Wear by hand on paths whose engagement is known. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Cutter } from "../../../src/core/cutting/cutter.ts";
import { line, nearestOn } from "../../../src/core/geometry/segment.ts";
import { engage, goneOver, newChart } from "../../../src/core/motion/wear/engaged.ts";
import { lengthOf, wearOf } from "../../../src/core/motion/wear/wear.ts";
import { isFeed } from "../../../src/core/program/read/trace.ts";
import { arcTo, type Go, go, trace, type Xyz } from "../program.ts";

const router: Cutter = {
  name: "router-2",
  kind: "diamond-router",
  diameter: 2,
  fluteLength: 8,
  overhang: 14,
  flutes: 2,
  coating: "none",
};

/** A square round which the cutter goes once at each depth, slanted by `turn`. */
function square(side: number, depths: readonly number[], turn: number): Go[] {
  const corner = (k: number): readonly [number, number] => {
    const x = k === 1 || k === 2 ? side : 0;
    const y = k === 2 || k === 3 ? side : 0;
    return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
  };
  return depths.flatMap((z): Go[] => [
    { to: [...corner(0), z], feed: 300 },
    ...[1, 2, 3, 0].map((k): Go => ({ to: [...corner(k), z], feed: 736 })),
  ]);
}

describe("a square of 40 mm in 3 mm plate", () => {
  test.each([
    ["one pass", [-3.25], 0],
    ["four passes", [-0.8, -1.6, -2.4, -3.25], 0],
    ["four passes, slanted", [-0.8, -1.6, -2.4, -3.25], 0.6],
    ["four passes and a finishing one", [-0.8, -1.6, -2.4, -3.25, -3.25], 0.3],
  ] as const)("%s: 0.16 m of edge", (_, depths, turn) => {
    const moves = go([0, 0, 1], square(40, depths, turn));
    const wear = wearOf(trace(moves), router, { top: 0, thickness: 3 });
    // Cells of 1 mm against a way of 160: within 5 %.
    expect(Math.abs(wear.edgeMetres / 0.16 - 1)).toBeLessThan(0.05);
    expect(wear.cutMetres).toBeGreaterThanOrEqual((160 * depths.length) / 1000);
    expect(wear.cutMetres).toBeLessThan((160 * depths.length + 4.25) / 1000 + 1e-9);
    expect(wear.lifeUsed).toBeCloseTo(wear.edgeMetres / 4, 12);
    expect(wear.stepEdge.reduce((a, b) => a + b, 0)).toBeCloseTo(wear.edgeMetres, 12);
  });
  test("zero at the spoilboard changes nothing but the numbers in the program", () => {
    const moves = go([0, 0, 4], square(40, [1.5, -0.25], 0.2));
    const same = go([0, 0, 1], square(40, [-1.5, -3.25], 0.2));
    const a = wearOf(trace(moves), router, { top: 3, thickness: 3 });
    const b = wearOf(trace(same), router, { top: 0, thickness: 3 });
    expect(a.edgeMetres).toBeCloseTo(b.edgeMetres, 9);
    expect(a.cutMetres).toBeCloseTo(b.cutMetres, 9);
  });
});

test("a helix down a hole of 10 mm counts its wall once", () => {
  const from: Xyz = [4, 0, 0];
  let at: Xyz = from;
  const turns = Array.from({ length: 5 }, () => {
    const turn = arcTo(at, [0, 0], 2 * Math.PI, -0.65);
    at = turn.to;
    return { ...turn, feed: 400 };
  });
  const last = { ...arcTo(at, [0, 0], 2 * Math.PI), feed: 400 };
  const wear = wearOf(trace(go(from, [...turns, last])), router, { top: 0, thickness: 3 });
  // The way of the centre, 2π·4 mm, through 3 mm of plate; cells are coarse on so small a circle.
  expect(Math.abs(wear.edgeMetres / ((2 * Math.PI * 4) / 1000) - 1)).toBeLessThan(0.15);
});

test("a helix in a hole little wider than the cutter counts the hole, however many turns it takes", () => {
  const down = (turns: number): number => {
    const from: Xyz = [0.6, 0, 0];
    let at = from;
    const moves = Array.from({ length: turns }, () => {
      const turn = { ...arcTo(at, [0, 0], 2 * Math.PI, -3.25 / turns), feed: 200 };
      at = turn.to;
      return turn;
    });
    const last = { ...arcTo(at, [0, 0], 2 * Math.PI), feed: 200 };
    const moved = trace(go(from, [...moves, last]));
    return wearOf(moved, router, { top: 0, thickness: 3 }).edgeMetres * 1000;
  };
  // π·1.6² mm² ÷ 2 mm; cells of 0.5 mm on a hole of 3.2.
  for (const turns of [4, 10, 20]) expect(Math.abs(down(turns) / 4.0212 - 1)).toBeLessThan(0.12);
  expect(down(20)).toBeCloseTo(down(10), 9);
});

test("rows of a clearing that overlap count by what each takes", () => {
  // A field of 40 × 20 in rows 0.9 apart: (42 × 22 less corners) ÷ 2.
  const rows = Array.from({ length: 23 }, (_, i): Go[] => {
    const y = (20 * i) / 22;
    const [a, b] = i % 2 === 0 ? [0, 40] : [40, 0];
    return [
      { to: [a, y, -3], feed: 700 },
      { to: [b, y, -3], feed: 700 },
    ];
  }).flat();
  const wear = wearOf(trace(go([0, 0, -3], rows)), router, { top: 0, thickness: 3 });
  const area = 42 * 22 - (4 - Math.PI);
  expect(Math.abs((wear.edgeMetres * 2000) / area - 1)).toBeLessThan(0.03);
});

test("a finishing pass counts as the sliver that it takes", () => {
  const line = (y: number): Go[] => [
    { to: [0, y, -3], feed: 700 },
    { to: [997, y + 99.7, -3], feed: 700 },
  ];
  const edge = (moves: Go[]): number =>
    wearOf(trace(go([0, 0, -3], moves)), router, { top: 0, thickness: 3 }).edgeMetres;
  const rough = edge(line(0));
  // Slanted, so that cells are met at all offsets: 0.1 mm of 2, across the slope.
  const sliver = edge([...line(0), { to: [0, 0.1, 1], rapid: true }, ...line(0.1)]) - rough;
  expect(sliver / rough).toBeGreaterThan(0.035);
  expect(sliver / rough).toBeLessThan(0.065);
});

test("what runs above the sheet, at rapid or nowhere wears nothing", () => {
  const moves = go(
    [0, 0, 6],
    [
      { to: [50, 0, 6], rapid: true },
      { to: [50, 0, 0], feed: 300 },
      { to: [90, 0, 0], feed: 300 },
    ],
  );
  const wear = wearOf(trace(moves), router, { top: 0, thickness: 3 });
  expect(wear.cutMetres).toBe(0);
  expect(wear.edgeMetres).toBe(0);
  expect(wear.rubbingMetres).toBe(0);
});

test("rubbing of a metre of slot at 0.04 mm/rev with Ø2 is 78.54 m", () => {
  // π·2/2 mm for each of 1000/0.04 turns.
  const moves = go([0, 0, -1], [{ to: [1000, 0, -1], feed: 800, rpm: 20_000 }]);
  const wear = wearOf(trace(moves), router, { top: 0, thickness: 3 });
  expect(wear.rubbingMetres).toBeCloseTo(78.5398, 3);
});

test("measured life takes the table's place and is said", () => {
  const moves = go([0, 0, -3], [{ to: [500, 0, -3], feed: 800 }]);
  const sheet = { top: 0, thickness: 3 };
  const planned = wearOf(trace(moves), router, sheet);
  const measured = wearOf(trace(moves), router, sheet, { measuredLife: 8 });
  expect(planned.lifeUsed / measured.lifeUsed).toBeCloseTo(2, 9);
  expect(planned.lifeUsedMost).toBeCloseTo(planned.edgeMetres / 3, 12);
  expect(measured.assumptions.join(" ")).toContain("measured");
  expect(planned.assumptions.join(" ")).toContain("derived");
});

test("diameter lost in proportion to life, where the cutter says what it loses", () => {
  const moves = trace(go([0, 0, -3], [{ to: [1000, 0, -3], feed: 800 }]));
  const sheet = { top: 0, thickness: 3 };
  const wear = wearOf(moves, { ...router, diameterLoss: 0.04 }, sheet);
  expect(wear.diameterLoss).toBeCloseTo(0.04 * wear.lifeUsed, 12);
  expect(wear.lifeUsed).toBeCloseTo(0.25, 2);
  expect(wearOf(moves, router, sheet).diameterLoss).toBeUndefined();
});

test.each([
  [1, 0.5],
  [2, 1],
  [2.5, 1],
  [3, 1],
  [4, 4 / 3],
  [6, 2],
])("a metre of edge in %d mm counts as %d m of life", (thickness, metres) => {
  const moves = trace(go([0, 0, -thickness], [{ to: [1000, 0, -thickness], feed: 800 }]));
  const wear = wearOf(moves, router, { top: 0, thickness });
  expect(wear.edgeMetres).toBeCloseTo(1, 2);
  expect(wear.wearMetres / wear.edgeMetres).toBeCloseTo(metres, 12);
  expect(wear.lifeUsed).toBeCloseTo(wear.wearMetres / 4, 12);
  expect(wear.assumptions.join(" ").includes("counts as")).toBe(metres !== 1);
});

test("what a later pass goes over again may be left out: the sum is the same", () => {
  const depth = fc.integer({ min: 1, max: 12 }).map((n) => -n / 4);
  const side = fc.constantFrom(7, 20, 33);
  const rounds = fc.array(fc.tuple(side, fc.array(depth, { minLength: 1, maxLength: 6 })), {
    minLength: 1,
    maxLength: 3,
  });
  let left = 0;
  fc.assert(
    fc.property(rounds, fc.double({ min: 0, max: 1, noNaN: true }), (squares, turn) => {
      const steps = squares.flatMap(([s, depths]) => square(s, depths, turn));
      const feeds = trace(go([0, 0, 1], steps)).steps.filter(isFeed);
      const chart = newChart(2, 0, 3);
      const all = feeds.reduce((sum, f) => sum + engage(chart, f, lengthOf(f)), 0);
      left += goneOver(feeds).reduce((a, b) => a + b, 0);
      const wear = wearOf(trace(go([0, 0, 1], steps)), router, { top: 0, thickness: 3 });
      expect(wear.edgeMetres * 3 * 1000).toBeCloseTo(all, 6);
    }),
  );
  expect(left).toBeGreaterThan(100);
});

test("a level straight way clears the cells whose middles lie within the cutter's radius of it, and no other", () => {
  const at = fc.double({ min: -6, max: 6, noNaN: true });
  fc.assert(
    fc.property(at, at, at, at, fc.boolean(), (x0, y0, x, y, flat) => {
      const [x1, y1] = [x, flat ? y0 : y];
      const chart = newChart(2, 0, 3);
      const { cell, radius } = chart;
      const way = { x0, y0, x1, y1, z0: -2, z1: -2, arc: undefined };
      const volume = engage(chart, way, lengthOf(way)) * 2 * radius;
      let cells = 0;
      let close = 0;
      for (let row = -40; row < 40; row++) {
        for (let column = -40; column < 40; column++) {
          const p = { x: (column + 0.5) * cell, y: (row + 0.5) * cell };
          const d = nearestOn(line({ x: x0, y: y0 }, { x: x1, y: y1 }), p).distance;
          if (d <= radius) cells++;
          // Neither is exact to the last digit.
          if (Math.abs(d - radius) < 1e-9) close++;
        }
      }
      expect(Math.abs(volume / (2 * cell * cell) - cells)).toBeLessThanOrEqual(close + 1e-6);
    }),
    { numRuns: 60 },
  );
});
