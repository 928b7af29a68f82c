/** A program that stops among chords is judged as the whole one was: by the curve that they stand for. */
import { expect, test } from "vitest";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { isFeed, isMove, type Trace, type TraceMove } from "../../src/core/program/read/trace.ts";
import type { TargetCutter } from "../../src/core/proof/proof.ts";
import { strokesOf } from "../../src/core/proof/removal/stroke.ts";
import { interrupted } from "../../src/core/restart/judge.ts";
import { ODD, starterBench } from "./support.ts";

const cutter: TargetCutter = {
  name: "router-2",
  kind: "diamond-router",
  effectiveDiameter: 2,
  fluteLength: 8,
  overhang: 20,
  flutes: 1,
  feedPerRev: { least: 0, most: 1 },
};

function bendsOf(trace: Trace): number[] {
  const program = { file: "", sheet: "", cutter, trace };
  const strokes = strokesOf(program, 0, { programZero: { x: 0, y: 0, z: 0 } });
  return strokes.map((s) => s.bend);
}

test("chords bend as they did, wherever the program is interrupted", () => {
  const { programs } = starterBench(ODD);
  const trace = programs[0]?.trace as Trace;
  const whole = bendsOf(trace);
  expect(whole.filter((bend) => bend < 10).length).toBeGreaterThan(100);
  const moves = trace.steps.filter(isMove);
  const random = seeded(0xbe7d);
  for (let n = 0; n < 150; n++) {
    const i = Math.floor(random() * moves.length);
    const move = moves[i] as TraceMove;
    if (!isFeed(move)) continue;
    const cut = interrupted(trace, trace.steps.indexOf(move) + 1, 5);
    expect(bendsOf(cut)[i], `line ${move.line}`).toBe(whole[i]);
  }
});
