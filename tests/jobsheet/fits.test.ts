/** What was changed for fits stands on the job sheet; the sheet of a job without mates says nothing of it. */
import { expect, test } from "vitest";
import type { FitJson } from "../../src/core/job/plan-json.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { all, parseHtml, textOf } from "./parse-html.ts";
import { samplePlan } from "./sample-plan.ts";

const slot: FitJson = {
  plate: "bottom",
  what: "slot",
  at: [14, 20],
  before: { width: 2.1, length: 8.2 },
  after: { width: 2.03, length: 8.1 },
  with: "side",
  clearance: 0.1,
  relief: { way: "round-ends", radius: 1.015, bite: 1.015, corners: 4 },
};
const fits: readonly FitJson[] = [
  slot,
  { ...slot, at: [-14, 20] },
  {
    plate: "side",
    what: "tenon",
    at: [16, 0],
    before: { width: 8, length: 3 },
    after: { width: 8, length: 3.06 },
    with: "bottom",
  },
];

function changed(plan: ReturnType<typeof samplePlan>): string[][] | undefined {
  const table = all(parseHtml(jobSheet(plan)), "table").find(
    (t) => textOf(all(t, "caption")[0] ?? "") === "Changed for fits",
  );
  if (table === undefined) return undefined;
  const [body] = all(table, "tbody");
  return body === undefined
    ? []
    : all(body, "tr").map((tr) => tr.children.map((c) => textOf(c).trim()));
}

test("each change has its row: before and after, the room, the relief; equal ones share it", () => {
  expect(changed({ ...samplePlan(), fits })).toEqual([
    [
      "bottom",
      "slot",
      "2",
      "(14, 20) (-14, 20)",
      "2.1 → 2.03",
      "8.2 → 8.1",
      "side",
      "0.1",
      "round ends beyond the tenon, radius 1.015, bite 1.015",
    ],
    ["side", "tenon", "1", "(16, 0)", "8", "3 → 3.06", "bottom", "", "as drawn"],
  ]);
});

test("no table where nothing was changed", () => {
  expect(changed(samplePlan())).toBeUndefined();
});
