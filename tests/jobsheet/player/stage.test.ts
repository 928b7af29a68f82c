/** Where the player says that the cutter is, judged by the trace. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { playerData, runsOf } from "../../../src/core/jobsheet/motion/player-data.ts";
import type { TraceMove } from "../../../src/core/program/read/trace.ts";
import {
  lengthOf,
  momentAt,
  placeAt,
  secondsAt,
  stageOf,
  stepOfLine,
  type Take,
} from "../../../src/page/player/stage.ts";
import { samplePlan } from "../sample-plan.ts";
import { longProgram } from "./long-program.ts";

const plan = samplePlan();
const [onFour, , onTwo] = plan.programs;
const runs = runsOf(
  plan,
  new Map([
    [onFour?.file ?? "", longProgram(700)],
    [plan.programs[1]?.file ?? "", longProgram(300)],
    [onTwo?.file ?? "", longProgram(200)],
  ]),
);
const data = playerData(plan, runs);

function takeOf(sheet: number, index: number): Take {
  const take = stageOf(data, sheet)?.takes[index];
  if (take === undefined) throw new Error("no such take");
  return take;
}

describe("a stage", () => {
  test("has the programs of its sheet, one after the other", () => {
    const second = stageOf(data, 1);
    expect(second?.takes.map((t) => t.program.file)).toEqual([plan.programs[1]?.file, onTwo?.file]);
    expect(second?.takes[1]?.first).toBe(second?.takes[0]?.motion.count);
    expect(stageOf(data, 2)).toBeUndefined();
  });

  test("tells where zero, top and underside are for every origin", () => {
    expect(data.sheets[0]).toMatchObject({ topZ: 0, thickness: 4, depth: 4.25, zero: [0, 0] });
    const board = playerData({ ...plan, origin: { at: "centre", z: "spoilboard" } }, []);
    expect(board.sheets.map((s) => s.topZ)).toEqual([4, 2]);
  });
});

describe("a moment", () => {
  const { motion } = takeOf(0, 0);
  const { trace, time } = runs[0] as (typeof runs)[number];
  const step = fc.integer({ min: 0, max: motion.count - 1 });
  const share = fc.double({ min: 0, max: 1, noNaN: true });

  test("and its time lead to one another", () => {
    fc.assert(
      fc.property(step, share, (i, s) => {
        const seconds = secondsAt(motion, i, s);
        const back = momentAt(motion, seconds);
        expect(secondsAt(motion, back.step, back.share)).toBeCloseTo(seconds, 6);
      }),
    );
  });

  test("between steps is where one ends and the next begins", () => {
    for (let i = 1; i < motion.count; i++) {
      const [a, b] = [placeAt(motion, i - 1, 1), placeAt(motion, i, 0)];
      if (motion.unknown[i] === 1) continue;
      for (const axis of ["x", "y", "z"] as const) expect(a[axis]).toBeCloseTo(b[axis], 6);
    }
  });

  test("half-way along an arc is half its sweep from its start", () => {
    const arcs = trace.steps.flatMap((s, i) => ("arc" in s && s.arc ? [[s, i] as const] : []));
    expect(arcs.length).toBeGreaterThan(200);
    for (const [move, i] of arcs) {
      const arc = move.arc as NonNullable<TraceMove["arc"]>;
      const angle = Math.atan2(move.y0 - arc.cy, move.x0 - arc.cx) + arc.sweep / 2;
      const half = placeAt(motion, i, 0.5);
      expect(Math.abs(half.x - arc.cx - arc.radius * Math.cos(angle))).toBeLessThan(0.003);
      expect(Math.abs(half.y - arc.cy - arc.radius * Math.sin(angle))).toBeLessThan(0.003);
    }
  });

  test("lengths add up to what was timed", () => {
    let cut = 0;
    for (const [i, s] of trace.steps.entries()) if (s.kind === "feed") cut += lengthOf(motion, i);
    expect(cut / 1000).toBeCloseTo((time as { cutMetres?: number }).cutMetres ?? 0, 3);
  });

  test("of a line is the last step of it; of a line that moves nothing, the last before", () => {
    const lines = trace.steps.map((s) => s.line);
    for (let line = 1; line <= (trace.lines ?? 0) + 3; line++) {
      const expected = Math.max(0, lines.filter((l) => l <= line).length - 1);
      expect(stepOfLine(motion, line)).toBe(expected);
    }
  });
});
