/**
 * Metres of plate edge that each plate block of a routed program will cut, before anything is written. By the
 * same chart of the sheet as wear from a trace, so that the two agree.
 */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { Point } from "../../geometry/shape.ts";
import { thicknessOf } from "../../layout/layout.ts";
import type { CutProgram } from "../../toolpath/cut.ts";
import { routedMoves } from "../routed.ts";
import { engage, newChart } from "./engaged.ts";
import { lengthOf } from "./wear.ts";

/** `zero`: the program's X0 Y0 in the sheet frame; the chart's cells lie about it. */
export function blockEdges(program: CutProgram, zero: Point): readonly number[] {
  const thickness = thicknessOf(program.sheet);
  const chart = newChart(effectiveDiameter(program.cutter), 0, thickness);
  // Rapids cut nothing, so their height is of no account.
  return routedMoves(program, { zero, clearance: 1 }).map((moves) => {
    let area = 0;
    for (const move of moves) {
      const length = lengthOf(move);
      if (move.kind === "feed" && length > 0) area += engage(chart, move, length);
    }
    return area / thickness / 1000;
  });
}
