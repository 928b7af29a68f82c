/** What was changed of the drawings so that plates sit in one another and corners come free. */
import type { FitJson, UnprovenPlan } from "../../job/plan-json.ts";
import { type Child, decimals, h, table } from "../html.ts";

const WAY: Readonly<Record<string, string>> = {
  "round-ends": "round ends beyond the tenon",
  "along-wall": "along the longer walls",
  bisector: "on the bisectors",
};

/** Nothing where nothing was changed. */
export function fitsTable({ fits = [] }: UnprovenPlan): Child {
  if (fits.length === 0) return undefined;
  return [
    h(
      "p",
      {},
      "Changed for the sheets as measured and the cutter: these are not as drawn, and the sizes above are those after the change. Room is in all, not on each side.",
    ),
    table(
      "Changed for fits",
      [
        { head: "Plate" },
        { head: "What" },
        { head: "Count", number: true },
        { head: "At", long: true },
        { head: "Width", number: true },
        { head: "Length or reach", number: true },
        { head: "Sits in or on" },
        { head: "Room", number: true },
        { head: "Corners", long: true },
      ],
      alike(fits).map(({ fit, at }) => [
        fit.plate,
        fit.what,
        at.length,
        at.map(([x, y]) => [
          h("span", { class: "pair" }, `(${decimals(x, 2)}, ${decimals(y, 2)})`),
          " ",
        ]),
        change(fit.before.width, fit.after.width),
        change(fit.before.length, fit.after.length),
        fit.with ?? "",
        fit.clearance === undefined ? "" : decimals(fit.clearance, 3),
        corners(fit),
      ]),
    ),
  ];
}

interface Alike {
  readonly fit: FitJson;
  readonly at: FitJson["at"][];
}

/** Equal changes of one plate share a row. */
function alike(fits: readonly FitJson[]): Alike[] {
  const rows = new Map<string, Alike>();
  for (const fit of fits) {
    const key = JSON.stringify({ ...fit, at: undefined });
    const row = rows.get(key);
    if (row === undefined) rows.set(key, { fit, at: [fit.at] });
    else row.at.push(fit.at);
  }
  return [...rows.values()];
}

function change(before: number, after: number): string {
  const [a, b] = [decimals(before, 3), decimals(after, 3)];
  return a === b ? b : `${a} → ${b}`;
}

function corners({ relief }: FitJson): string {
  if (relief === undefined) return "as drawn";
  const { way, radius, bite } = relief;
  return `${WAY[way] ?? way}, radius ${decimals(radius, 3)}, bite ${decimals(bite, 3)}`;
}
