/** The collet's nut beside clamps: it is far wider than the cutter, and comes down nearly as far as the cutter is short. */

import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { contains, rectangle } from "../../geometry/contour.ts";
import { circle, distance } from "../../geometry/segment.ts";
import type { Contour } from "../../geometry/shape.ts";
import type { KeepOut, Placement, Sheet } from "../../layout/layout.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import type { CutterOnSheet } from "../shape/cutters-used.ts";
import { cuttersUsed } from "../shape/cutters-used.ts";
import { closestOf, middle } from "../shape/gaps.ts";
import type { JobView } from "../view.ts";

/** Radius of a collet nut for shanks up to 7 mm, with its flats: 19 mm over all, from memory (80 % sure). */
export const NUT_RADIUS = 9.5;

export const collet: Rule = {
  code: "collet-near-keep-out",
  asks: "Does the collet's nut pass beside every clamp, where it comes lower than clamps may be high?",
  reason:
    "The nut hits a clamp at feed: the cutter breaks, and the sheet moves under all that follows.",
  limits: [
    {
      what: "from the cutter's axis to a keep-out",
      value: `${NUT_RADIUS} mm, where the nut is lower than cutting.clearance at full depth`,
      source: `half of a 19 mm nut, from memory (80 % sure); ${COMMON_PRACTICE}`,
    },
  ],
  when: "layout",
  run: (view) =>
    (view.layouts ?? []).flatMap(({ sheet, placements }) =>
      cuttersUsed(view)
        .filter((c) => c.sheet.name === sheet.name)
        .flatMap((c) => nearest(view, c, sheet, placements)),
    ),
};

function nearest(
  view: JobView,
  { cutter, thickness }: CutterOnSheet,
  sheet: Sheet,
  placements: readonly Placement[],
): Finding[] {
  const height = cutter.overhang - thickness - view.cutting.throughDepth;
  if (height >= view.cutting.clearance - AT_LIMIT) return [];
  const radius = effectiveDiameter(cutter) / 2;
  const found = placements.flatMap((placement) =>
    sheet.keepOuts.flatMap((keepOut) => {
      const shape = shapeOf(keepOut);
      const close = closestOf(placement.outer.segments, shape.segments, NUT_RADIUS - radius);
      // The layout keeps plates out of keep-outs; one inside is told there.
      if (close === undefined || contains(shape, close.a)) return [];
      return [{ placement, close, axis: distance(close.a, close.b) + radius }];
    }),
  );
  const [worst] = found.sort((a, b) => a.axis - b.axis);
  if (worst === undefined) return [];
  const at = middle(worst.close);
  const data = {
    found: worst.axis,
    wanted: NUT_RADIUS,
    cutter: cutter.name,
    plate: worst.placement.plate.name,
    height,
    clearance: view.cutting.clearance,
    overhang: view.cutting.clearance + thickness + view.cutting.throughDepth,
  };
  return [reportCheck("collet-near-keep-out", data, { sheet: sheet.name, at: [at.x, at.y] })];
}

function shapeOf(k: KeepOut): Contour {
  if (k.kind === "disc") return { segments: [circle(k.at, k.diameter / 2, true)] };
  return rectangle(k.box.min.x, k.box.min.y, k.box.max.x, k.box.max.y);
}
