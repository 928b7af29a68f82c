/** Windows and outlines with a place that the smallest cutter cannot pass: a bay or a neck that would stay full of material. */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { Finding, Place } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import type { Contour } from "../../geometry/shape.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { type Fit, fitOf, type Wall, wallOf } from "../../toolpath/choose/fit.ts";
import type { Rule } from "../rule.ts";
import { widestRound } from "../shape/widest-cutter.ts";
import { featurePlace, type JobView } from "../view.ts";

export const passage: Rule = {
  code: "neck-narrower-than-cutter",
  asks: "Can the smallest cutter get into every bay of every window and outline?",
  reason: "Material that no cutter reaches stays, and the part is not what was drawn.",
  limits: [
    {
      what: "a passage's width",
      value: "the smallest cutter's effective diameter",
      source: "geometry",
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) => [
      ...blocked(
        view,
        "The outline",
        { contour: p.plate.outer, side: "outside" },
        {
          plate: p.plate.name,
          drawing: p.plate.origin,
        },
      ),
      ...p.plate.features
        .filter((f) => f.kind === "window" || f.kind === "recess")
        .flatMap((f) =>
          blocked(view, nameOf(f), { contour: f.contour, side: "inside" }, featurePlace(p, f)),
        ),
    ]),
};

function blocked(
  view: JobView,
  feature: string,
  { contour, side }: { readonly contour: Contour; readonly side: Wall["side"] },
  place: Place,
): Finding[] {
  const [smallest] = view.routers;
  if (smallest === undefined) return [];
  const diameter = effectiveDiameter(smallest);
  const fit: Fit = fitOf(wallOf(contour, side), diameter / 2);
  if (!fit.enters || !fit.split) return [];
  const largest = widestRound(contour, side);
  const data = {
    feature,
    found: largest,
    wanted: diameter,
    cutter: smallest.name,
    diameter,
    leftMm2: fit.leftMm2 - fit.cornersMm2,
    largest,
  };
  return [reportCheck("neck-narrower-than-cutter", data, place)];
}
