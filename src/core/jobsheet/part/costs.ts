/** Time, metres, wear, cost and mass, by program, cutter and plate, each with what it rests on. */
import { bounds } from "../../geometry/contour.ts";
import type { EstimateJson, UnprovenPlan } from "../../job/plan-json.ts";
import { contourOf } from "../../job/planning/contour-json.ts";
import { type Child, decimals, duration, type Html, h, section, table } from "../html.ts";

export function costsPart(plan: UnprovenPlan): Html {
  const { estimate } = plan;
  const reckoned = estimate.seconds > 0 || estimate.cost > 0;
  return section(
    "costs",
    "Times and costs",
    reckoned ? totals(estimate) : h("p", {}, "Times and costs were not reckoned."),
    programs(plan),
    cutters(plan),
    plates(estimate),
    sheets(plan),
    offcuts(plan),
    assumptions(estimate),
  );
}

function totals(estimate: EstimateJson): Html {
  const { costs, mass, currency } = estimate;
  const money = (value: number): string => `${decimals(value, 2)} ${currency}`;
  const rows: (readonly [string, string])[] = [];
  if (estimate.seconds > 0) {
    rows.push(
      ["Machine time, all programs", duration(estimate.seconds)],
      ["of it cutting", duration(estimate.cuttingSeconds)],
      ["rapids", duration(estimate.rapidSeconds)],
      ["waiting for the spindle", duration(estimate.dwellSeconds)],
    );
  }
  if (estimate.measuredRatio !== undefined) {
    rows.push([
      "times what was measured on earlier cutters",
      `${decimals(estimate.measuredRatio, 2)} ×`,
    ]);
  }
  if (estimate.cutMetres !== undefined && estimate.edgeMetres !== undefined) {
    rows.push(
      ["Cut, every pass", `${decimals(estimate.cutMetres, 2)} m`],
      ["Plate edge, passes counted once", `${decimals(estimate.edgeMetres, 2)} m`],
    );
  }
  if (mass !== undefined) {
    rows.push([
      "Mass of all plates",
      `${decimals(mass.g, 1)} g (${decimals(mass.least, 1)}–${decimals(mass.most, 1)})`,
    ]);
  }
  if (estimate.cost > 0) rows.push(["Cost", money(estimate.cost)]);
  if (costs !== undefined && estimate.cost > 0) {
    rows.push(
      ["of it sheets, less offcuts", money(costs.sheet)],
      ["machine time", money(costs.machine)],
      ["cutters", money(costs.cutter)],
      ["set-up", money(costs.setup)],
    );
  }
  return table("All in all", [{ head: "What" }, { head: "How much", number: true }], rows);
}

function programs(plan: UnprovenPlan): Child {
  if (plan.programs.every((p) => p.byMotion === undefined)) return false;
  return table(
    "Programs, by kind of motion",
    [
      { head: "Program", long: true },
      { head: "All", number: true },
      { head: "Level", number: true },
      { head: "Ramps", number: true },
      { head: "Plunges", number: true },
      { head: "Rapids", number: true },
      { head: "Dwells", number: true },
    ],
    plan.programs.map((p) => [
      p.file,
      duration(p.seconds),
      ...(["level", "ramp", "plunge", "rapid", "dwell"] as const).map((kind) =>
        p.byMotion === undefined ? "" : duration(p.byMotion[kind]),
      ),
    ]),
  );
}

function cutters(plan: UnprovenPlan): Html {
  const metres = (value: number | undefined): string =>
    value === undefined ? "" : decimals(value, 2);
  return table(
    "Cutters",
    [
      { head: "Cutter" },
      { head: "Cuts, m", number: true },
      { head: "Edge, m", number: true },
      { head: "Rubs, m", number: true },
      { head: "Lasts, m of edge", number: true },
      { head: "Of its life", number: true },
      { head: "New ones on the way", number: true },
      { head: "Loses, mm", number: true },
    ],
    plan.cutters.map((c) => [
      c.name,
      decimals(c.cutMetres, 2),
      metres(c.edgeMetres),
      c.rubbingMetres === undefined ? "" : decimals(c.rubbingMetres, 0),
      metres(c.lifeMetres),
      c.lifeUsed > 0 ? `${Math.round(c.lifeUsed * 100)} %` : "not given",
      c.changes === undefined ? "" : String(c.changes),
      c.diameterLoss === undefined ? "not given" : decimals(c.diameterLoss, 3),
    ]),
  );
}

function plates({ plates: each, currency }: EstimateJson): Child {
  if (each === undefined || each.length === 0) return false;
  const money = (value: number): string => decimals(value, 2);
  return table(
    "Plates",
    [
      { head: "Plate" },
      { head: "Time", number: true },
      { head: "Edge, m", number: true },
      { head: "Mass, g", number: true },
      { head: `Sheet, ${currency}`, number: true },
      { head: "Machine", number: true },
      { head: "Cutters", number: true },
      { head: "Set-up", number: true },
      { head: "All", number: true },
    ],
    each.map((p) => [
      `${p.plate} ${p.copy}`,
      duration(p.seconds),
      decimals(p.edgeMetres, 2),
      `${decimals(p.mass.g, 1)} (${decimals(p.mass.least, 1)}–${decimals(p.mass.most, 1)})`,
      money(p.cost.sheet),
      money(p.cost.machine),
      money(p.cost.cutter),
      money(p.cost.setup),
      money(p.cost.total),
    ]),
  );
}

function sheets({ sheets: all, estimate }: UnprovenPlan): Html {
  return table(
    "Sheets",
    [
      { head: "Sheet" },
      { head: "Becomes plates", number: true },
      { head: "Price", number: true },
      { head: "Offcut to keep, mm", number: true },
      { head: "Worth", number: true },
    ],
    all.map((s) => {
      const offcut = estimate.offcuts?.find((o) => o.sheet === s.name);
      return [
        s.name,
        `${decimals(100 * s.utilisation, 1)} %`,
        s.price === undefined ? "not given" : `${decimals(s.price, 2)} ${estimate.currency}`,
        offcut === undefined
          ? "none"
          : `${decimals(offcut.to[0] - offcut.from[0], 0)} × ${decimals(offcut.to[1] - offcut.from[1], 0)}`,
        offcut === undefined ? "" : `${decimals(offcut.worth, 2)} ${estimate.currency}`,
      ];
    }),
  );
}

/** What is left in pieces worth keeping, each with the drawing that makes it the next job's sheet. */
function offcuts({ sheets: all }: UnprovenPlan): Child {
  const rows = all.flatMap((s) => (s.offcuts ?? []).map((o) => [s, o] as const));
  if (rows.length === 0) return false;
  return table(
    "Offcuts",
    [
      { head: "Drawing" },
      { head: "Of sheet" },
      { head: "Size, mm", number: true },
      { head: "Thick, mm", number: true },
      { head: "Clear rectangle, mm", number: true },
      { head: "Fibre", number: true },
    ],
    rows.map(([s, o]) => {
      const { min, max } = bounds(contourOf(o.outline));
      return [
        o.file,
        s.name,
        `${decimals(max.x - min.x, 0)} × ${decimals(max.y - min.y, 0)}`,
        decimals(s.thickness, 2),
        `${roundedDown(o.clear.width)} × ${roundedDown(o.clear.height)}`,
        `${decimals(s.fibreDeg, 1)}°`,
      ];
    }),
  );
}

/** To a tenth of a millimetre: a rectangle that is told is there. */
function roundedDown(mm: number): string {
  return decimals(Math.floor(10 * mm) / 10, 1);
}

function assumptions({ assumed, assumptions: all }: EstimateJson): Child {
  const groups: (readonly [string, readonly string[]])[] =
    assumed === undefined
      ? [["These rest on:", all]]
      : [
          ["Times rest on:", assumed.time],
          ["Metres and wear rest on:", assumed.wear],
          ["Costs rest on:", assumed.cost],
          ["Mass rests on:", assumed.mass],
        ];
  return groups
    .filter(([, list]) => list.length > 0)
    .map(
      ([head, list]): Child => [
        h("p", {}, head),
        h(
          "ul",
          {},
          list.map((text) => h("li", {}, text)),
        ),
      ],
    );
}
