/** Times and costs, with what they rest on. */
import type { PlanJson } from "../../job/plan-json.ts";
import { decimals, duration, type Html, h, section, table } from "../html.ts";

export function costsPart(plan: PlanJson): Html {
  const { estimate } = plan;
  const rows: (readonly [string, string])[] = [
    ["Machine time, all programs", duration(estimate.seconds)],
    ["of it cutting", duration(estimate.cuttingSeconds)],
    ["rapids", duration(estimate.rapidSeconds)],
    ["waiting for the spindle", duration(estimate.dwellSeconds)],
  ];
  const timed = estimate.seconds > 0;
  if (estimate.cost > 0) {
    rows.push(["Cost", `${decimals(estimate.cost, 2)} ${estimate.currency}`]);
  }
  return section(
    "costs",
    "Times and costs",
    timed || estimate.cost > 0
      ? table(
          "Times and costs",
          [{ head: "What" }, { head: "How much", number: true }],
          timed ? rows : rows.slice(4),
        )
      : h("p", {}, "Times and costs were not reckoned."),
    table(
      "Cutters",
      [
        { head: "Cutter" },
        { head: "Cuts, m", number: true },
        { head: "Of its life", number: true },
      ],
      plan.cutters.map((c) => [
        c.name,
        decimals(c.cutMetres, 2),
        c.lifeUsed > 0 ? `${Math.round(c.lifeUsed * 100)} %` : "not given",
      ]),
    ),
    table(
      "Sheets",
      [
        { head: "Sheet" },
        { head: "Becomes plates", number: true },
        { head: "Price", number: true },
      ],
      plan.sheets.map((s) => [
        s.name,
        `${decimals(100 * s.utilisation, 1)} %`,
        s.price === undefined ? "not given" : `${decimals(s.price, 2)} ${estimate.currency}`,
      ]),
    ),
    estimate.assumptions.length > 0 && [
      h("p", {}, "These rest on:"),
      h(
        "ul",
        {},
        estimate.assumptions.map((text) => h("li", {}, text)),
      ),
    ],
  );
}
