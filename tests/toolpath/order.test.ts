/** Order and links: what must hold wherever plates lie, and that neither changes what is cut. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { distanceTo, rectangle } from "../../src/core/geometry/contour.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import type { KeepOut } from "../../src/core/layout/layout.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import { isMove, type TraceMove } from "../../src/core/program/read/trace.ts";
import { type Cut, type CuttingOptions, feedLength } from "../../src/core/toolpath/cut.ts";
import { airTimes, restToRest } from "../../src/core/toolpath/link/time.ts";
import { MACHINE, OPTIONS, platesFrom, type Run, runOf, type Setting } from "./support.ts";

const PLATES = ["demo/bottom-plate.dxf", "demo/arm.dxf", "demo/top-plate.dxf"];
const KEEP_OUTS: readonly KeepOut[] = [
  { kind: "disc", at: { x: 200, y: 150 }, diameter: 20 },
  { kind: "box", box: { min: { x: 0, y: 100 }, max: { x: 14, y: 130 } } },
];

const setting: Setting = {
  plates: PLATES.flatMap(platesFrom).map((p, i) => ({ ...p, name: `plate-${i}` })),
  sheet: { keepOuts: KEEP_OUTS },
};
const usual = runOf({ ...setting, orderSteps: 0 });
const short = runOf(setting);
const high = runOf({ ...setting, options: { hop: 6 } });

const rapidSeconds = (run: Run): number =>
  run.traces.reduce((sum, t) => sum + timeOf(t, MACHINE).rapidSeconds, 0);
const cutsOf = (run: Run): { plate: string; cut: Cut }[] =>
  run.routed.programs.flatMap((p) =>
    p.blocks.flatMap(({ plate, cuts }) => cuts.map((cut) => ({ plate, cut }))),
  );
const moves = (run: Run): TraceMove[] => run.traces.flatMap((t) => t.steps.filter(isMove));
const outerOf = (run: Run, plate: string): Contour =>
  run.layouts[0]?.placements.find((p) => p.plate.name === plate)?.outer ?? { segments: [] };

describe("order", () => {
  test("takes less time through the air than the nearest next from the usual entries", () => {
    expect(rapidSeconds(short)).toBeLessThan(rapidSeconds(usual));
  });

  test("cuts the same: every cut once, as long and of as many moves", () => {
    const told = (run: Run): string[] =>
      cutsOf(run)
        .map(({ plate, cut }) => {
          return `${plate} ${cut.label} ${cut.moves.length} ${feedLength(cut).toFixed(2)}`;
        })
        .sort((a, b) => (a < b ? -1 : 1));
    expect(told(short)).toEqual(told(usual));
  });

  test("more steps find no longer way", () => {
    const longer = runOf({ ...setting, orderSteps: 20_000 });
    expect(rapidSeconds(longer)).toBeLessThan(rapidSeconds(short) * 1.01);
  });

  test("gives the same program again", () => {
    expect(runOf(setting).texts).toEqual(short.texts);
  });
});

/** Rapids across below clearance, and where the way lies, every so often. */
function low(run: Run): { move: TraceMove; points: Point[] }[] {
  return moves(run)
    .filter((m) => m.kind === "rapid" && (m.x0 !== m.x1 || m.y0 !== m.y1) && m.z0 < 6)
    .map((move) => {
      const { x0, y0, x1, y1 } = move;
      const n = Math.ceil(Math.hypot(x1 - x0, y1 - y0) / 0.25);
      const at = (t: number): Point => ({ x: x0 + t * (x1 - x0), y: y0 + t * (y1 - y0) });
      return { move, points: Array.from({ length: n + 1 }, (_, i) => at(i / n)) };
    });
}

describe("links", () => {
  test("with a hop as high as clearance, none is lower", () => {
    expect(low(high)).toEqual([]);
    expect(low(short).length).toBeGreaterThan(cutsOf(short).length / 2);
  });

  test("none is lower than the hop", () => {
    for (const { move } of low(short)) expect(Math.min(move.z0, move.z1)).toBe(OPTIONS.hop);
  });

  test("the first of a program comes at clearance", () => {
    for (const { steps } of short.traces) {
      const [up, across] = steps.filter(isMove);
      expect([up?.z1, across?.z0, across?.z1]).toEqual([6, 6, 6]);
    }
  });

  test("low ones keep the cutter off keep-outs", () => {
    for (const { points } of low(short)) {
      for (const p of points) {
        expect(Math.hypot(p.x - 200, p.y - 150) - 10).toBeGreaterThan(0.98);
        const dx = Math.max(0, p.x - 14);
        const dy = Math.max(100 - p.y, 0, p.y - 130);
        expect(Math.hypot(dx, dy)).toBeGreaterThan(0.98);
      }
    }
  });

  test("and off plates that have been cut free", () => {
    const [trace] = short.traces;
    const outlines = (trace?.comments ?? []).flatMap((c) =>
      /outline/.test(c.text) ? [c.line] : [],
    );
    const plates = short.routed.programs[0]?.blocks.map((b) => outerOf(short, b.plate)) ?? [];
    expect(outlines.length).toBe(plates.length);
    for (const { move, points } of low(short)) {
      // A plate is free from the way to the cut behind its outline on.
      const free = plates.slice(0, outlines.filter((line) => line < move.line - 2).length);
      for (const outer of free) {
        for (const p of points) expect(distanceTo(outer, p)).toBeGreaterThan(0.96);
      }
    }
  });

  test("an outline that bends in is not left between two cuts", () => {
    // A sheet like a U, whose arms hold a plate each.
    const arms = runOf({
      plates: platesFrom("demo/camera-side.dxf"),
      count: 4,
      sheet: { outline: uShape(), margin: 4 },
    });
    const placed = arms.layouts[0]?.placements ?? [];
    expect(placed.length).toBe(4);
    for (const { points } of low(arms)) {
      for (const p of points) {
        const inGap = p.x > 70 && p.x < 130 && p.y > 30;
        expect(inGap).toBe(false);
      }
    }
  });
});

function uShape(): Contour {
  const corners: [number, number][] = [
    [0, 0],
    [200, 0],
    [200, 200],
    [130, 200],
    [130, 30],
    [70, 30],
    [70, 200],
    [0, 200],
  ];
  const at = corners.map(([x, y]) => ({ x, y }));
  return {
    segments: at.map((from, i) => ({ kind: "line", from, to: at[(i + 1) % at.length] ?? from })),
  };
}

describe("seconds through the air", () => {
  test("from rest to rest: half the way faster, half slower; or at full speed between", () => {
    // 100 mm/s², 50 mm/s: 25 mm are used up at either end's ramp of half a second.
    expect(restToRest(4, 50, 100)).toBeCloseTo(2 * Math.sqrt(4 / 100), 12);
    expect(restToRest(25, 50, 100)).toBeCloseTo(1, 12);
    expect(restToRest(75, 50, 100)).toBeCloseTo(2, 12);
  });

  test("are those of the written program, but for the turns between up and across", () => {
    const { lift, across } = airTimes(MACHINE);
    const timed = short.traces.reduce((sum, t) => sum + timeOf(t, MACHINE).rapidSeconds, 0);
    const summed = moves(short)
      .filter((m) => m.kind === "rapid" && (m.unknown ?? 0) === 0)
      .reduce(
        (sum, m) =>
          sum +
          (m.z0 === m.z1 ? across({ x: m.x0, y: m.y0 }, { x: m.x1, y: m.y1 }) : lift(m.z1 - m.z0)),
        0,
      );
    // Two turns a link, at which a short hop up or down is not quite from rest.
    expect(Math.abs(summed / timed - 1)).toBeLessThan(0.1);
  });

  test("a slanting way is bound by the axis that is slowest for it", () => {
    const { across } = airTimes({ ...MACHINE, maxFeed: [6000, 1200, 800] });
    // 20 mm/s along Y carry 5 along X and 10 along Y: half a second, and the ramps of Y: 20/300.
    expect(across({ x: 0, y: 0 }, { x: 5, y: 10 })).toBeCloseTo(0.5 + 20 / 300, 9);
  });
});

describe("over the whole sheet", () => {
  test("with copies, which have their cuts in common, every one is cut as often as it lies there", () => {
    fc.assert(
      fc.property(
        fc.subarray(["demo/arm.dxf", "demo/top-plate.dxf", "demo/camera-side.dxf"], {
          minLength: 1,
        }),
        fc.integer({ min: 2, max: 6 }),
        (drawings, count) => {
          const copies: Setting = {
            plates: drawings.flatMap(platesFrom),
            count,
            sheet: { outline: rectangle(0, 0, 500, 400) },
          };
          const told = (order: CuttingOptions["order"]): string[] =>
            runOf({ ...copies, options: { order } })
              .routed.programs.flatMap((p) => p.blocks)
              .flatMap(({ plate, copy, cuts }) =>
                cuts.map((cut) => `${plate} ${copy} ${cut.label} ${feedLength(cut).toFixed(2)}`),
              )
              .sort((a, b) => (a < b ? -1 : 1));
          const whole = told("whole-sheet");
          expect(whole).toEqual(told("plate-by-plate"));
          expect(whole.filter((line) => line.includes("outline"))).toHaveLength(
            drawings.length * count,
          );
        },
      ),
      { numRuns: 8 },
    );
  });

  const whole = runOf({ ...setting, options: { order: "whole-sheet" } });

  test("takes no longer through the air than plate by plate, and cuts the same", () => {
    expect(rapidSeconds(whole)).toBeLessThanOrEqual(rapidSeconds(short));
    const labels = (run: Run): string[] =>
      cutsOf(run)
        .map(({ plate, cut }) => `${plate} ${cut.label} ${cut.moves.length}`)
        .sort((a, b) => (a < b ? -1 : 1));
    expect(labels(whole)).toEqual(labels(short));
  });

  test("each outline still comes after all that is inside it", () => {
    const cuts = cutsOf(whole);
    for (const { plate } of cuts) {
      const own = cuts.filter((c) => c.plate === plate).map((c) => c.cut.label);
      expect(own.indexOf("outline")).toBe(own.length - 1);
    }
  });
});
