/** What the machine at hand cannot do as planned, though it serves: block rate, and room round the sheet. */
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayPlan } from "../../finding/say-plan.ts";
import { bounds } from "../../geometry/contour.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import type { Machine } from "../../machine/machine.ts";
import { borderFits } from "../../program/write/border.ts";
import type { Slowed } from "../../program/write/pace.ts";

const say = reporter(sayPlan);

export function slowedFindings(
  file: string,
  { blocks, most }: Slowed,
  { blocksPerSecond }: Machine,
): Finding[] {
  if (blocks === 0) return [];
  const percent = Math.round(most * 100);
  return [say("feed-lowered-for-blocks", { file, blocks, percent, blocksPerSecond })];
}

export function borderFindings(layouts: readonly SheetLayout[], machine: Machine): Finding[] {
  return layouts
    .filter((l) => l.placements.length > 0 && !borderFits(l.sheet, machine))
    .map(({ sheet }) => {
      const { min, max } = bounds(sheet.outline);
      const [travelX, travelY] = machine.travel;
      const size = { width: max.x - min.x, height: max.y - min.y };
      const data = { sheet: sheet.name, ...size, travelX, travelY };
      return say("border-beyond-travel", data, { sheet: sheet.name });
    });
}
