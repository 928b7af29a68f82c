/** Cutter changes at plate ends: by hand, and what holds for all programs. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Cutter } from "../../../src/core/cutting/cutter.ts";
import { chooseRates } from "../../../src/core/cutting/rates.ts";
import { rectangle } from "../../../src/core/geometry/contour.ts";
import type { Sheet } from "../../../src/core/layout/layout.ts";
import { blockEdges } from "../../../src/core/motion/wear/block-edges.ts";
import { type Stretch, splitByLife } from "../../../src/core/motion/wear/shifts.ts";
import { type Part, splitter } from "../../../src/core/motion/wear/split.ts";
import { wearOf } from "../../../src/core/motion/wear/wear.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import { writeProgram } from "../../../src/core/program/write/write.ts";
import type { Cut, CutProgram, PlateBlock } from "../../../src/core/toolpath/cut.ts";
import { ask, cutter } from "../../cutting/ask.ts";
import { machine } from "../program.ts";

const ZERO = { x: 0, y: 0 };
const ROUTER: Cutter = cutter({ name: "router-2" });

function sheet(thickness: number): Sheet {
  return {
    name: `carbon-${thickness}`,
    material: "carbon-woven",
    thickness,
    outline: rectangle(0, 0, 4000, 4000),
    fibreDeg: 0,
    margin: 6,
    keepOuts: [],
  };
}

/** Straight cuts of the given lengths, in two passes, 10 mm apart; each a plate of its own. */
function program(thickness: number, lengths: readonly number[], tool = ROUTER): CutProgram {
  const rates = chooseRates(ask({ cutter: tool })).value;
  const blocks = lengths.map((length, i): PlateBlock => {
    const y = 10 * (i + 1);
    const at = (x: number, z: number): Cut["moves"][number] => ({ to: { x, y }, z, feed: 700 });
    const moves = [-thickness / 2, -thickness].flatMap((z) => [at(5, z), at(5 + length, z)]);
    const back = { ...at(5, -thickness), feed: 700 };
    return {
      plate: `plate-${i + 1}`,
      copy: 1,
      cuts: [{ label: "outline", start: { x: 5, y }, startZ: 1, moves: [...moves, back] }],
    };
  });
  return { sheet: sheet(thickness), cutter: tool, rates, blocks };
}

const lengthsOf = (parts: readonly Part[]): readonly number[][] =>
  parts.map((p) => p.program.blocks.map((b) => Number(b.plate.slice(6))));

describe("shares of a life", () => {
  const plates = (...metres: number[]): Stretch[] =>
    metres.map((wearMetres, i) => ({ name: `plate-${i + 1}`, copy: 1, wearMetres }));

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

  test("every plate once, in order; no cutter beyond its life but for a plate alone", () => {
    const metres = fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { maxLength: 30 });
    const used = fc.double({ min: 0, max: 1, noNaN: true });
    const life = fc.double({ min: 0.5, max: 6, noNaN: true });
    fc.assert(
      fc.property(metres, life, used, (list, whole, before) => {
        const shifts = splitByLife(plates(...list), whole, before);
        expect(shifts[0]?.from).toBe(0);
        expect(shifts.at(-1)?.to).toBe(list.length);
        shifts.forEach((s, i) => {
          if (i > 0) expect(s.from).toBe(shifts[i - 1]?.to);
          if (s.to - s.from > 1) expect(s.lifeUsed).toBeLessThanOrEqual(1 + 1e-6);
        });
        // No change that was not needed: two cutters' work would not have fitted one.
        for (let i = 1; i + 1 < shifts.length; i++) {
          const both = list.slice(shifts[i]?.from, (shifts[i + 1]?.from ?? 0) + 1);
          expect(both.reduce((a, b) => a + b, 0)).toBeGreaterThan(whole);
        }
      }),
    );
  });
});

describe("programs", () => {
  const edges = (program: CutProgram) => blockEdges(program, ZERO);
  const splitting = (life: number, used: number) =>
    splitter({ lifeMetres: () => life, used: () => used, edges });
  const split = (programs: readonly CutProgram[], life: number, used = 0) => {
    const made = splitting(life, used);
    return { parts: made.split(programs), findings: made.findings() };
  };

  test("four plates of a metre, a life of 2.5: two programs, and the change is told", () => {
    const { parts, findings } = split([program(2, [1000, 1000, 1000, 1000])], 2.5);
    expect(lengthsOf(parts)).toEqual([
      [1, 2],
      [3, 4],
    ]);
    expect(parts.map((p) => p.newCutter)).toEqual([false, true]);
    expect(parts[1]?.lifeAfter).toBeCloseTo(0.8, 2);
    expect(findings.map((f) => [f.code, f.data["changes"], f.data["before"]])).toEqual([
      ["cutter-outlasted", 1, "plate-3 1 on carbon-2"],
    ]);
  });

  test("a cutter goes on to the next sheet with what it has behind it; thick sheet wears it more", () => {
    // Metres of 4 mm sheet count 4/3.
    const { parts } = split([program(2, [1000, 1000]), program(4, [1000, 1000])], 3.5);
    expect(lengthsOf(parts)).toEqual([[1, 2], [1], [2]]);
    expect(parts.map((p) => p.newCutter)).toEqual([false, false, true]);
    expect(parts[1]?.lifeBefore).toBeCloseTo(2 / 3.5, 2);
    expect(parts[1]?.lifeAfter).toBeCloseTo((2 + 4 / 3) / 3.5, 2);
  });

  test("two cutters are counted apart", () => {
    const other = cutter({ name: "router-3", diameter: 3 });
    const { parts, findings } = split([program(2, [1500]), program(2, [1500], other)], 2);
    expect(parts.map((p) => p.newCutter)).toEqual([false, false]);
    expect(findings).toEqual([]);
  });

  test("a worn cutter is changed before the first plate", () => {
    const { parts } = split([program(2, [1000])], 2.5, 0.9);
    expect(parts.length).toBe(1);
    expect(parts[0]).toMatchObject({ newCutter: true, lifeBefore: 0 });
    expect(parts[0]?.lifeAfter).toBeCloseTo(0.4, 2);
  });

  test("a plate that needs more than a life gets a cutter of its own, and is told", () => {
    const { parts, findings } = split([program(2, [500, 3000, 500])], 2);
    expect(lengthsOf(parts)).toEqual([[1], [2], [3]]);
    expect(findings.map((f) => f.code)).toEqual(["cutter-outlasted", "plate-outlasts-cutter"]);
  });

  test("a program that needs no change is the same object", () => {
    const whole = program(2, [1000]);
    expect(split([whole], 4).parts[0]?.program).toBe(whole);
  });

  test("every block once and in order, whatever the lengths, lives and shares", () => {
    const lengths = fc.array(fc.integer({ min: 20, max: 1500 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        lengths,
        lengths,
        fc.double({ min: 0.3, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 1.5, noNaN: true }),
        (a, b, life, used) => {
          const programs = [program(2, a), program(3, b)];
          const { parts, findings } = split(programs, life, used);
          const later = splitting(life, used);
          expect(programs.flatMap((p) => later.split([p]))).toEqual(parts);
          expect(later.findings()).toEqual(findings);
          const blocks = parts.flatMap((p) => p.program.blocks);
          expect(blocks).toEqual(programs.flatMap((p) => p.blocks));
          for (const p of parts) {
            expect(p.lifeAfter).toBeGreaterThanOrEqual(p.lifeBefore);
            if (p.program.blocks.length > 1) expect(p.lifeAfter).toBeLessThanOrEqual(1 + 1e-6);
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});

test("metres of the routed blocks are those of the program as written and read back", () => {
  const made = program(3, [400, 150, 730]);
  const context = {
    job: "test",
    machine: machine(),
    options: {
      tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
      throughDepth: 0.25,
      finish: { stock: 0.1 },
      direction: "climb",
      rampDeg: 3,
      clearance: 6,
      hop: 6,
    },
    originAt: "lower left corner",
    zAt: "sheet-top",
    zero: { x: 3, y: 7 },
    number: 1,
    of: 1,
  } as const;
  const trace = readProgram("a.nc", writeProgram(made, context).text);
  const wear = wearOf(trace, made.cutter, { top: 0, thickness: 3 });
  const edges = blockEdges(made, context.zero);
  expect(edges.reduce((a, b) => a + b, 0)).toBeCloseTo(wear.edgeMetres, 9);
  expect(edges.map((e) => Math.round(e * 50) / 50)).toEqual([0.4, 0.16, 0.74]);
});
