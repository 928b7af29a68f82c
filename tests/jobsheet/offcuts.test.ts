/** The job sheet's table of offcuts. */
import { describe, expect, it } from "vitest";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { all, parseHtml, textOf } from "./parse-html.ts";
import { samplePlan } from "./sample-plan.ts";

/** Undefined where there is no such table. */
function offcutRows(plan: PlanJson): string[][] | undefined {
  const table = all(parseHtml(jobSheet(plan)), "table").find(
    (t) => textOf(all(t, "caption")[0] ?? "") === "Offcuts",
  );
  const body = table === undefined ? undefined : all(table, "tbody")[0];
  return body === undefined ? undefined : all(body, "tr").map((tr) => tr.children.map(textOf));
}

describe("offcuts", () => {
  const outline = {
    start: [20, 10] as const,
    segments: (
      [
        [140, 10],
        [140, 100.4],
        [20, 100.4],
        [20, 10],
      ] as const
    ).map((to) => ({ to })),
  };
  const clear = { at: [20, 10] as const, width: 119.96, height: 90.3 };
  const plan = samplePlan();
  const offcuts = [{ file: "offcut-carbon-4-1.dxf", area: 10848, clear, outline }];
  const sheets = plan.sheets.map((s, i) => (i === 0 ? { ...s, fibreDeg: 30, offcuts } : s));

  it("are listed with what the next job must know of them, never larger than they are", () => {
    expect(offcutRows({ ...plan, sheets })).toEqual([
      ["offcut-carbon-4-1.dxf", "carbon-4", "120 × 90", "4", "119.9 × 90.3", "30°"],
    ]);
  });

  it("need no table where nothing is left", () => {
    const none = plan.sheets.map((s) => ({ ...s, offcuts: [] }));
    expect(offcutRows({ ...plan, sheets: none })).toBeUndefined();
  });
});
