/** What holds for every plate's cuts, whatever the plate. */
import { describe, expect, test } from "vitest";
import { effectiveDiameter } from "../../src/core/cutting/cutter.ts";
import { perimeter } from "../../src/core/geometry/contour.ts";
import { nearestOn } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import type { Cut, CutMove } from "../../src/core/toolpath/cut.ts";
import { OPTIONS, PLATE_FILES, platesFrom, ROUTER, type Run, runOf, SHEET } from "./support.ts";

const BOTTOM = -(SHEET.thickness + OPTIONS.throughDepth);
const TAB_TOP = -(SHEET.thickness - OPTIONS.tabs.height);

interface Step {
  readonly from: Point;
  readonly z0: number;
  readonly move: CutMove;
}

function stepsOf(cut: Cut): Step[] {
  let from = cut.start;
  let z0 = cut.startZ;
  return cut.moves.map((move) => {
    const step = { from, z0, move };
    from = move.to;
    z0 = move.z;
    return step;
  });
}

function radiusOf({ from, move }: Step): number {
  const c = move.arc?.centre ?? from;
  return Math.hypot(from.x - c.x, from.y - c.y);
}

function lengthXY(step: Step): number {
  const { from, move } = step;
  return move.arc === undefined
    ? Math.hypot(move.to.x - from.x, move.to.y - from.y)
    : radiusOf(step) * Math.abs(move.arc.sweep);
}

const cutsOf = (run: Run): { plate: string; copy: number; cut: Cut }[] =>
  run.routed.programs.flatMap((p) =>
    p.blocks.flatMap(({ plate, copy, cuts }) => cuts.map((cut) => ({ plate, copy, cut }))),
  );

function away(contour: Contour, p: Point): number {
  return Math.min(...contour.segments.map((s) => nearestOn(s, p).distance));
}

/** Heights at which a cut goes level for some way, from the top down. */
function levels(cut: Cut): number[] {
  const flat = stepsOf(cut).filter((s) => s.z0 === s.move.z && lengthXY(s) > 1);
  return [...new Set(flat.map((s) => Math.round(s.move.z * 1e6) / 1e6))].sort((a, b) => b - a);
}

const RUNS = new Map(PLATE_FILES.map((file) => [file, runOf({ plates: platesFrom(file) })]));

describe.each([...RUNS])("%s", (_file, run) => {
  const cuts = cutsOf(run);

  test("every outline is cut last of its plate, and every plate is finished before the next", () => {
    const blocks = run.routed.programs.flatMap((p) => p.blocks);
    expect(new Set(blocks.map((b) => `${b.plate} ${b.copy}`)).size).toBe(blocks.length);
    for (const { cuts: own } of blocks) {
      expect(own.at(-1)?.label).toBe("outline");
      expect(own.slice(0, -1).some((cut) => cut.label === "outline")).toBe(false);
    }
  });

  test("all go through by the through depth, and no further", () => {
    for (const { cut } of cuts) {
      expect(Math.min(...cut.moves.map((m) => m.z))).toBeCloseTo(BOTTOM, 9);
    }
  });

  test("passes are even and no deeper than asked", () => {
    const even = -BOTTOM / Math.ceil(-BOTTOM / (OPTIONS.passDepth ?? 1));
    for (const { cut } of cuts.filter((c) => c.cut.label === "outline")) {
      const passes = levels(cut).filter((z) => Math.abs(z - TAB_TOP) > 1e-6);
      let above = 0;
      for (const z of passes) {
        // A level pass may be missing where the way down is a spiral of several turns.
        const n = (above - z) / even;
        expect(n).toBeCloseTo(Math.round(n), 4);
        above = z;
      }
      expect(passes.at(-1)).toBeCloseTo(BOTTOM, 9);
    }
  });

  test("nothing goes down steeper than the ramp, but where the pass before has been", () => {
    const slope = Math.tan((OPTIONS.rampDeg * Math.PI) / 180) * (1 + 2e-4);
    let open = 0;
    for (const { cut } of cuts) {
      // What is finished by itself was cleared by the cut before.
      if (!cut.label.endsWith(" finish")) open = 0;
      for (const step of stepsOf(cut)) {
        const fall = step.z0 - step.move.z;
        if (fall > 0 && fall > slope * lengthXY(step)) {
          // In the air, or in the kerf that an earlier pass has left open.
          expect(step.move.z).toBeGreaterThanOrEqual(open - 1e-9);
        }
        open = Math.min(open, step.move.z);
      }
    }
  });
});

describe.each([...RUNS])("%s", (_file, run) => {
  const cuts = cutsOf(run);

  test("at full depth the centre is a radius from its wall, within 2 µm, but for leads and tabs", () => {
    const radius = effectiveDiameter(ROUTER) / 2;
    for (const { plate, copy, cut } of cuts.filter((c) => c.cut.label === "outline")) {
      const placement = run.layouts[0]?.placements.find(
        (p) => p.plate.name === plate && p.copy === copy,
      );
      const outer = placement?.outer ?? { segments: [] };
      const gaps = cut.moves.map((m) => away(outer, m.to) - radius);
      expect(Math.min(...gaps)).toBeGreaterThan(-0.002);
      const touching = stepsOf(cut).filter(
        (s) => s.move.z < BOTTOM + 1e-9 && away(outer, s.move.to) < radius + 0.002,
      );
      const way = touching.reduce((sum, s) => sum + lengthXY(s), 0);
      // The finishing pass: once round, less a bridge, its rise and its foot for each tab.
      const round = perimeter(outer);
      const tabs = run.routed.tabs.filter(
        (t) => t.plate === plate && t.copy === copy && t.feature === undefined,
      );
      const lost = tabs.reduce((sum, t) => sum + t.width + 2 * radius + 2, 0);
      expect(way).toBeGreaterThan(round - lost - 2);
    }
  });

  test("tabs: as many as wanted, as wide as wanted, on the contour, spread", () => {
    for (const { plate, copy } of run.routed.programs.flatMap((p) => p.blocks)) {
      const tabs = run.routed.tabs.filter(
        (t) => t.plate === plate && t.copy === copy && t.feature === undefined,
      );
      expect(tabs.length).toBeGreaterThanOrEqual(OPTIONS.tabs.least);
      for (const tab of tabs) expect(tab.width).toBe(OPTIONS.tabs.width);
      const outer = run.layouts[0]?.placements.find((p) => p.plate.name === plate)?.outer;
      for (const tab of tabs) expect(away(outer ?? { segments: [] }, tab.at)).toBeLessThan(1e-6);
      const gaps = tabs.flatMap((a, i) =>
        tabs.slice(i + 1).map((b) => Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y)),
      );
      expect(Math.min(...gaps)).toBeGreaterThan(OPTIONS.tabs.width);
    }
  });

  test("blocks: no facets, one pass is the contour and a dozen more, and so much again for each tab", () => {
    for (const { plate, copy, cut } of cuts.filter((c) => c.cut.label === "outline")) {
      const n =
        run.layouts[0]?.placements.find((p) => p.plate.name === plate && p.copy === copy)?.outer
          .segments.length ?? 0;
      const convex = 2 * n;
      const tabs = run.routed.tabs.filter((t) => t.plate === plate && t.copy === copy).length;
      const steps = stepsOf(cut);
      const first = levels(cut).find((z) => z > TAB_TOP) ?? 0;
      const plain = steps.filter((s) => s.move.z === s.z0 && s.z0 === first).length;
      expect(plain).toBeLessThanOrEqual(convex + 12);
      // From the finishing pass's start: the last time that the bottom is left for good.
      const deep = steps.filter((s) => s.move.z < BOTTOM + 1e-9 && s.z0 < BOTTOM + 1e-9).length;
      expect(deep).toBeLessThanOrEqual(3 * (convex + 12 + 6 * tabs));
    }
  });

  test("a bore writes one arc a turn", () => {
    for (const { cut } of cuts.filter((c) => /^hole [\d.]+$/.test(c.cut.label))) {
      const arcs = cut.moves.filter((m) => m.arc !== undefined);
      for (const m of arcs) expect(Math.abs(m.arc?.sweep ?? 0)).toBeGreaterThan(Math.PI - 1e-9);
      const turns = arcs.reduce((sum, m) => sum + Math.abs(m.arc?.sweep ?? 0), 0) / (2 * Math.PI);
      expect(arcs.length).toBeLessThanOrEqual(turns + 2);
    }
  });
});
