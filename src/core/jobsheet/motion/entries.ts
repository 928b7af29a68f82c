/** Where the cutter goes into the sheet, as the programs' own motion has it. */
import { GRID } from "../../geometry/tolerance.ts";
import type { PointJson, SheetJson, UnprovenPlan } from "../../job/plan-json.ts";
import { isMove } from "../../program/read/trace.ts";
import { type ProgramRun, topZ } from "./player-data.ts";

/** By sheet name, in the sheet frame, each place once: where a move at feed first gets below the top after being above. */
export function entriesOf(
  plan: UnprovenPlan,
  runs: readonly ProgramRun[],
): Readonly<Record<string, readonly PointJson[]>> {
  return Object.fromEntries(plan.sheets.map((sheet) => [sheet.name, entriesOn(plan, sheet, runs)]));
}

function entriesOn(plan: UnprovenPlan, sheet: SheetJson, runs: readonly ProgramRun[]): PointJson[] {
  const top = topZ(plan, sheet) - GRID;
  const [zeroX, zeroY] = sheet.originOffset;
  const places = new Map<string, PointJson>();
  for (const { file, trace } of runs) {
    if (plan.programs.find((p) => p.file === file)?.sheet !== sheet.name) continue;
    for (const move of trace.steps) {
      if (!isMove(move) || move.z0 < top || move.z1 >= top) continue;
      const at: PointJson = [move.x0 + zeroX, move.y0 + zeroY];
      places.set(at.join(), at);
    }
  }
  return [...places.values()];
}
