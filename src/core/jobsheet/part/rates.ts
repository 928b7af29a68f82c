/** Cutters, how fast they run, and at the end of the sheet why. Programs that run alike share one explanation. */
import type { RateStep } from "../../cutting/cutter.ts";
import type { ProgramJson, UnprovenPlan } from "../../job/plan-json.ts";
import { type Child, decimals, type Html, h, section, table } from "../html.ts";

export function ratesPart(plan: UnprovenPlan): Html {
  return section(
    "rates",
    "Cutters and rates",
    table(
      "Cutters",
      [
        { head: "Cutter" },
        { head: "Kind" },
        { head: "Diameter, mm", number: true },
        { head: "Cuts, mm", number: true },
        { head: "Flutes", number: true },
        { head: "Flute length, mm", number: true },
        { head: "Out of the collet, mm", number: true },
      ],
      plan.cutters.map((c) => [
        c.name,
        c.kind,
        decimals(c.diameter, 3),
        decimals(c.effectiveDiameter, 3),
        c.flutes,
        decimals(c.fluteLength, 2),
        decimals(c.overhang, 2),
      ]),
    ),
    alike(plan.programs).map(figures),
    h(
      "p",
      { class: "small" },
      "Each figure with its formula, table row and source is ",
      h("a", { href: "#sources" }, "at the end"),
      ".",
    ),
  );
}

/** Long, and read once: so it stands after what is used at the machine. */
export function sourcesPart(plan: UnprovenPlan): Html {
  const groups = alike(plan.programs).filter(([p]) => (p?.rateSteps.length ?? 0) > 0);
  return section(
    "sources",
    "Where the rates come from",
    groups.length === 0
      ? h("p", {}, "The plan does not say.")
      : groups.map((group) => steps(titleOf(group), group[0]?.rateSteps ?? [])),
  );
}

/** Programs of one cutter and one set of rates. */
function alike(programs: readonly ProgramJson[]): ProgramJson[][] {
  const groups = new Map<string, ProgramJson[]>();
  for (const p of programs) {
    const key = JSON.stringify([p.cutter, p.rpm, p.feed, p.passDepth, p.rateSteps]);
    groups.set(key, [...(groups.get(key) ?? []), p]);
  }
  return [...groups.values()];
}

/** `router-2 on carbon-4 and carbon-2` */
function titleOf(programs: readonly ProgramJson[]): string {
  const sheets = [...new Set(programs.map((q) => q.sheet))].join(" and ");
  return `${programs[0]?.cutter} on ${sheets}`;
}

function figures(programs: readonly ProgramJson[]): Child {
  const p = programs[0];
  if (p === undefined) return undefined;
  return [
    h("h3", {}, titleOf(programs)),
    h(
      "dl",
      { class: "figures" },
      figure("Spindle", `${decimals(p.rpm, 0)} rpm`),
      figure("Feed, full width", `${decimals(p.feed, 0)} mm/min`),
      figure("Feed, finishing", `${decimals(p.finishFeed, 0)} mm/min`),
      figure("Down a ramp", `${decimals(p.rampFeed, 0)} mm/min`),
      figure("Straight down", `${decimals(p.plungeFeed, 0)} mm/min`),
      figure("Depth a pass", `${decimals(p.passDepth, 3)} mm`),
    ),
    h(
      "p",
      {},
      p.limitedBy === "table"
        ? "As the chart says; nothing held it back."
        : `Held back by: ${p.limitedBy}.`,
    ),
  ];
}

function figure(name: string, value: string): Html {
  return h("div", {}, h("dt", {}, name), h("dd", {}, value));
}

function steps(of: string, list: readonly RateStep[]): Html {
  return table(
    `Rates of ${of}, step by step`,
    [
      { head: "Quantity" },
      { head: "Value", number: true },
      { head: "Unit" },
      { head: "How", long: true },
      { head: "Source", long: true },
    ],
    list.map((s) => [s.quantity, significant(s.value), s.unit, s.formula, s.source]),
  );
}

/** Four significant digits, plainly written. */
function significant(value: number): string {
  return String(Number(value.toPrecision(4)));
}
