/**
 * Screw holes near a free edge. The levels are those of bolted laminate joints, in hole diameters from the hole's
 * middle to the edge. Holes of one plate at one level are told together, the worst with its place.
 */
import type { Finding, Severity } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { distance } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import type { Feature } from "../../plate/plate.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { screwHoles } from "../shape/screw-holes.ts";
import { featurePlace, type PlateView } from "../view.ts";

/** Below the first it stops, below the second it warns, below the third it is noted. */
export const LEVELS: readonly (readonly [severity: Severity, below: number])[] = [
  ["stop", 1.5],
  ["warn", 2],
  ["note", 3],
];

interface Near {
  readonly hole: Feature;
  readonly ratio: number;
  readonly distance: number;
}

export const edgeDistance: Rule = {
  code: "hole-near-edge",
  asks: "Is every screw hole far enough from the outline?",
  reason:
    "A screw that pulls towards a near edge shears the laminate out instead of bearing on it, without warning.",
  limits: [
    {
      what: "hole's middle to the edge",
      value:
        "below 1.5 diameters stop (warn where nothing but its size, over M3, says that it takes a screw), below 2 warn, below 3 note",
      source:
        "e/D 2.0 shear-out → bearing (Polymers 2024 16(6) 847, abstract); handbook e/D ≥ 3 (CMH-17 vol. 3, from memory, 85 %); levels derived for small airframes",
    },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingsFor),
};

function findingsFor(p: PlateView): Finding[] {
  const near = screwHoles(p)
    .map((hole) => nearEdge(p, hole))
    .sort((a, b) => a.ratio - b.ratio);
  let above = 0;
  return LEVELS.flatMap(([severity, below]) => {
    const these = near.filter((n) => n.ratio >= above - AT_LIMIT && n.ratio < below - AT_LIMIT);
    above = below;
    const [worst] = these;
    if (worst === undefined) return [];
    const data = {
      feature: nameOf(worst.hole),
      found: worst.ratio,
      wanted: below,
      distance: worst.distance,
      wantedMm: below * (worst.hole.diameter ?? 0),
      others: these.length - 1,
    };
    const known = these.some((n) => carriesScrew(p, n.hole));
    const finding = reportCheck("hole-near-edge", data, featurePlace(p, worst.hole));
    return [{ ...finding, severity: severity === "stop" && !known ? "warn" : severity }];
  });
}

/** Above M3 holes serve bushes, dampers and lightening as often as screws: nothing is stopped for a guess. */
const SURE = 3.75;

function carriesScrew(p: PlateView, hole: Feature): boolean {
  const named = p.fasteners?.some((f) => f.at !== undefined && distance(f.at, hole.at) <= 1);
  const patterned = p.patterns().some((q) => q.kind !== "rectangle" && q.holes.includes(hole));
  return named === true || patterned || (hole.diameter ?? 0) <= SURE;
}

function nearEdge(p: PlateView, hole: Feature): Near {
  const to = edgeDistanceOf(p, hole.at);
  return { hole, distance: to, ratio: to / (hole.diameter ?? 1) };
}

function edgeDistanceOf(p: PlateView, at: Point): number {
  const hit = p.outline().nearest(at);
  return hit === undefined ? Number.POSITIVE_INFINITY : distance(hit.point, at);
}
