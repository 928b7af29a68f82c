/** A job tried in cheap board: what is then other than in the sheet, and what is not. */
import type { TrialMaterial } from "../../cutting/cutter.ts";
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayPlan } from "../../finding/say-plan.ts";
import { type SheetLayout, thicknessOf } from "../../layout/layout.ts";

const say = reporter(sayPlan);

export function trialFindings(
  trial: TrialMaterial | undefined,
  layouts: readonly SheetLayout[],
): Finding[] {
  if (trial === undefined) return [];
  return layouts
    .filter((l) => l.placements.length > 0)
    .map(({ sheet }) =>
      say(
        "trial-material",
        { sheet: sheet.name, trial, material: sheet.material, thickness: thicknessOf(sheet) },
        { sheet: sheet.name },
      ),
    );
}
