/**
 * Screw holes near each other. Patterns of motors and boards are closer than the handbook likes, by their makers'
 * design: they are measured by the lower level alone.
 */
import type { Finding, Severity } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { distance } from "../../geometry/segment.ts";
import type { Feature } from "../../plate/plate.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { screwHoles } from "../shape/screw-holes.ts";
import { featurePlace, type PlateView } from "../view.ts";

export const LEVELS: readonly (readonly [severity: Severity, below: number])[] = [
  ["warn", 2],
  ["note", 4],
];

interface Pair {
  readonly a: Feature;
  readonly b: Feature;
  readonly distance: number;
  readonly ratio: number;
  readonly together: boolean;
}

export const pitch: Rule = {
  code: "holes-close-together",
  asks: "Are screw holes far enough from each other?",
  reason:
    "Holes in a row near each other make a tear line: the laminate fails in tension across them.",
  limits: [
    {
      what: "middle to middle, in diameters",
      value: "below 2 warn; below 4 note, but not within a motor's or board's pattern",
      source:
        "w/D 4.0 tension → bearing (Polymers 2024 16(6) 847, abstract); pitch ≥ 4 D (CMH-17 vol. 3, from memory, 85 %); 2 is derived: the web is one diameter",
    },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingsFor),
};

function findingsFor(p: PlateView): Finding[] {
  const pairs = pairsOf(p);
  let above = 0;
  return LEVELS.flatMap(([severity, below]) => {
    const these = pairs.filter(
      (q) =>
        q.ratio >= above - AT_LIMIT &&
        q.ratio < below - AT_LIMIT &&
        !(q.together && severity === "note"),
    );
    above = below;
    const [worst] = these;
    if (worst === undefined) return [];
    const data = {
      feature: nameOf(worst.a),
      other: nameOf(worst.b),
      found: worst.ratio,
      wanted: below,
      distance: worst.distance,
      others: these.length - 1,
    };
    return [{ ...reportCheck("holes-close-together", data, featurePlace(p, worst.a)), severity }];
  });
}

/** Nearest first. */
function pairsOf(p: PlateView): Pair[] {
  const patterns = p.patterns().filter((q) => q.kind !== "rectangle");
  const holes = screwHoles(p);
  return holes
    .flatMap((b, i) =>
      holes.slice(0, i).map((a): Pair => {
        const d = distance(a.at, b.at);
        const size = Math.max(a.diameter ?? 0, b.diameter ?? 0);
        const together = patterns.some((q) => q.holes.includes(a) && q.holes.includes(b));
        return { a, b, distance: d, ratio: d / size, together };
      }),
    )
    .sort((x, y) => x.ratio - y.ratio);
}
