/** Which cutters the job will use on which sheet: each feature's own, chosen as toolpath chooses. */
import type { Cutter } from "../../cutting/cutter.ts";
import type { Sheet } from "../../layout/layout.ts";
import { assignCutters } from "../../toolpath/choose/assign.ts";
import type { JobView } from "../view.ts";

export interface CutterOnSheet {
  readonly cutter: Cutter;
  readonly sheet: Sheet;
  readonly thickness: number;
}

export function cuttersUsed(view: JobView): CutterOnSheet[] {
  const found = new Map<string, CutterOnSheet>();
  for (const { plate, sheet, thickness } of view.plates) {
    const { outline, features } = assignCutters(plate, view.cutters);
    for (const cutter of [outline, ...features.values()]) {
      if (cutter === undefined) continue;
      found.set(JSON.stringify([sheet.name, cutter.name]), { cutter, sheet, thickness });
    }
  }
  return [...found.values()];
}
