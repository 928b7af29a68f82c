/** Wear by hand on paths whose engagement is known, and cutter changes at plate ends. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import { shiftFindings, splitByLife } from "../../src/core/motion/shifts.ts";
import { wearOf } from "../../src/core/motion/wear.ts";
import { arcTo, type Go, go, trace, type Xyz } from "./program.ts";

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

describe("cutter changes", () => {
  const plates = (...metres: number[]): { name: string; edgeMetres: number }[] =>
    metres.map((edgeMetres, i) => ({ name: `plate-${i + 1}`, edgeMetres }));

  test("as many plates as a life allows", () => {
    expect(splitByLife(plates(1, 1, 1, 1), 4)).toEqual([{ from: 0, to: 4, lifeUsed: 1 }]);
    expect(splitByLife(plates(1.5, 1.5, 1.5), 4).map((s) => [s.from, s.to])).toEqual([
      [0, 2],
      [2, 3],
    ]);
    expect(splitByLife(plates(1, 1), 4, 0.9).map((s) => [s.from, s.to])).toEqual([
      [0, 0],
      [0, 2],
    ]);
    expect(splitByLife(plates(), 4)).toEqual([{ from: 0, to: 0, lifeUsed: 0 }]);
  });

  test("a plate that needs more than a life is cut by a fresh cutter and told", () => {
    const stretches = plates(0.5, 5, 0.5);
    const shifts = splitByLife(stretches, 4);
    expect(shifts.map((s) => [s.from, s.to])).toEqual([
      [0, 1],
      [1, 2],
      [2, 3],
    ]);
    const codes = shiftFindings("router-2", stretches, shifts, 4).map((f) => f.code);
    expect(codes).toEqual(["cutter-outlasted", "plate-outlasts-cutter"]);
    expect(shiftFindings("router-2", plates(1), splitByLife(plates(1), 4), 4)).toEqual([]);
  });

  test("every plate once, in order; no cutter beyond its life but for a plate alone", () => {
    const metres = fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { maxLength: 30 });
    const used = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        metres,
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        used,
        (list, life, before) => {
          const shifts = splitByLife(plates(...list), life, before);
          expect(shifts[0]?.from).toBe(0);
          expect(shifts.at(-1)?.to).toBe(list.length);
          shifts.forEach((s, i) => {
            if (i > 0) expect(s.from).toBe(shifts[i - 1]?.to);
            if (s.to - s.from > 1) expect(s.lifeUsed).toBeLessThanOrEqual(1 + 1e-6);
          });
          // No change that was not needed: two cutters' work would not have fitted one.
          for (let i = 1; i + 1 < shifts.length; i++) {
            const both = list.slice(shifts[i]?.from, (shifts[i + 1]?.from ?? 0) + 1);
            expect(both.reduce((a, b) => a + b, 0)).toBeGreaterThan(life);
          }
        },
      ),
    );
  });
});
