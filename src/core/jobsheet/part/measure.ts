/**
 * Holes and fits to be measured on the first plate of each kind, with blanks for what the callipers say. Equal
 * holes and slots of a plate share a row.
 */
import { bounds } from "../../geometry/contour.ts";
import type { FeatureJson, UnprovenPlan } from "../../job/plan-json.ts";
import { clearanceName } from "../../plate/screw.ts";
import { asDrawn, type Kind, kindsOf } from "../from-json.ts";
import { blank, type Child, decimals, type Html, h, section, table } from "../html.ts";
import { fitsTable } from "./fits.ts";

interface Row {
  readonly what: string;
  readonly drawn: string;
  readonly fits: string;
  readonly blanks: number;
  readonly count: number;
}

export function measurePart(plan: UnprovenPlan): Html {
  return section(
    "fits",
    "Holes and fits",
    h("p", {}, "Measure the first plate of each kind before you break out the rest. All in mm."),
    kindsOf(plan.sheets).map(tableOf),
    fitsTable(plan),
  );
}

function tableOf(kind: Kind): Child {
  const { min, max } = bounds(asDrawn(kind.first.outer, kind.first));
  const outline: Row = {
    what: "outline",
    drawn: `${decimals(max.x - min.x, 2)} × ${decimals(max.y - min.y, 2)}`,
    fits: "",
    blanks: 2,
    count: 1,
  };
  const rows = [outline, ...grouped(kind.first.features.map((f) => rowOf(f, kind)))];
  return table(
    kind.plate,
    [
      { head: "Feature" },
      { head: "Count", number: true },
      { head: "Drawn", number: true },
      { head: "Made for" },
      { head: "Measured" },
    ],
    rows.map((row) => [
      row.what,
      row.count,
      row.drawn,
      row.fits,
      h(
        "span",
        { class: "pair" },
        Array.from({ length: row.blanks }, (_, i) => [
          i > 0 && " × ",
          blank(
            `${kind.plate}, ${row.what} ${row.drawn}, measured${row.blanks > 1 ? ` ${i + 1}` : ""}`,
          ),
        ]),
      ),
    ]),
  );
}

function grouped(rows: readonly Row[]): Row[] {
  const byKey = new Map<string, Row>();
  for (const row of rows) {
    const key = `${row.what} ${row.drawn}`;
    byKey.set(key, { ...row, count: (byKey.get(key)?.count ?? 0) + 1 });
  }
  return [...byKey.values()];
}

function rowOf(f: FeatureJson, kind: Kind): Row {
  if (f.kind === "hole" && f.diameter !== undefined) {
    const screw = clearanceName(f.diameter);
    const fits = screw === undefined ? "" : `${screw} (ISO 273)`;
    return { what: "hole", drawn: `⌀ ${decimals(f.diameter, 3)}`, fits, blanks: 1, count: 1 };
  }
  if (f.kind === "slot" && f.width !== undefined && f.length !== undefined) {
    const drawn = `${decimals(f.width, 3)} × ${decimals(f.length, 3)}`;
    return { what: "slot", drawn, fits: "", blanks: 2, count: 1 };
  }
  if (f.kind === "recess") {
    return {
      what: "recess",
      drawn: `${decimals(f.depth ?? 0, 3)} deep`,
      fits: "",
      blanks: 1,
      count: 1,
    };
  }
  const { min, max } = bounds(asDrawn(f.contour, kind.first));
  const drawn = `${decimals(max.x - min.x, 2)} × ${decimals(max.y - min.y, 2)}`;
  return { what: "window", drawn, fits: "", blanks: 2, count: 1 };
}
