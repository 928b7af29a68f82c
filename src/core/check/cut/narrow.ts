/** Openings into which no cutter of the job goes. Toolpath refuses them too; here the largest cutter that would do is named. */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { bounds } from "../../geometry/contour.ts";
import { BARELY } from "../../geometry/tolerance.ts";
import type { Feature } from "../../plate/plate.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { fitOf, wallOf } from "../../toolpath/choose/fit.ts";
import type { Rule } from "../rule.ts";
import { widestFor } from "../shape/widest-cutter.ts";
import { featurePlace, type JobView, type PlateView } from "../view.ts";

export const narrow: Rule = {
  code: "slot-narrower-than-cutter",
  asks: "Is every hole, slot and window wider than the smallest cutter?",
  reason:
    "What is no wider than the cutter cannot be cut; left out silently it is missed at assembly.",
  limits: [
    {
      what: "a slot's width",
      value: "the smallest cutter's effective diameter",
      source: "geometry",
    },
    {
      what: "a hole's diameter",
      value: "0.02 mm more than that, or a drill within 0.02 mm of it",
      source: "geometry; BARELY in geometry/tolerance.ts",
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) => p.plate.features.flatMap((f) => narrowFinding(view, p, f))),
};

function narrowFinding(view: JobView, p: PlateView, f: Feature): Finding[] {
  const [smallest] = view.routers;
  if (smallest === undefined) return [];
  const diameter = effectiveDiameter(smallest);
  if (goesIn(view, f, diameter)) return [];
  const width = widthOf(f);
  const data = {
    feature: nameOf(f),
    found: width,
    wanted: diameter,
    width,
    cutter: smallest.name,
    diameter,
    largest: widestFor(f),
  };
  return [reportCheck("slot-narrower-than-cutter", data, featurePlace(p, f))];
}

/** A slot a hair of drawing noise below the cutter still is the cutter's width, as in toolpath. */
const HAIR = 1e-3;

function goesIn(view: JobView, f: Feature, diameter: number): boolean {
  if (f.kind === "hole" && f.depth === undefined) {
    const size = f.diameter ?? 0;
    if (view.drills.some((d) => Math.abs(effectiveDiameter(d) - size) <= BARELY)) return true;
    return diameter < size - BARELY;
  }
  if (f.kind === "slot") return diameter <= (f.width ?? 0) + HAIR;
  return fitOf(wallOf(f.contour, "inside"), diameter / 2).enters;
}

function widthOf(f: Feature): number {
  const { min, max } = bounds(f.contour);
  return f.diameter ?? f.width ?? Math.min(max.x - min.x, max.y - min.y);
}
