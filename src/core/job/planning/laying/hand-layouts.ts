/** Layouts by hand that the job names for its sheets: their plates get the places that they show. */
import { type Finding, type Outcome, reporter } from "../../../finding/finding.ts";
import { sayPlan } from "../../../finding/say-plan.ts";
import type { Sheet } from "../../../layout/layout.ts";
import { withDrawnPlaces } from "../../../layout/read-back/drawn-places.ts";
import type { PlateOrder } from "../../../layout/riders.ts";
import type { Job } from "../../job.ts";
import type { ReadFile } from "../gather.ts";

const report = reporter(sayPlan);

export function withLayouts(
  job: Job,
  sheets: readonly Sheet[],
  asked: readonly PlateOrder[],
  read: ReadFile,
): Outcome<PlateOrder[]> {
  const findings: Finding[] = [];
  const placed = new Map<PlateOrder, PlateOrder>();
  for (const { name, layout: file } of job.sheets) {
    const sheet = sheets.find((s) => s.name === name);
    if (file === undefined || sheet === undefined) continue;
    const bytes = read(file);
    if (bytes === undefined) {
      findings.push(report("layout-missing", { file }, { sheet: name }));
      continue;
    }
    const orders = asked.filter((o) => o.sheet === name);
    const drawn = withDrawnPlaces({ file, bytes, sheet, orders });
    findings.push(...drawn.findings);
    for (const [i, order] of orders.entries()) placed.set(order, drawn.value[i] ?? order);
  }
  return { value: asked.map((order) => placed.get(order) ?? order), findings };
}
