/** Openings that were meant round and are not. Circles of flats and splines have been mended on reading; this is what is left. */
import { reportCheck } from "../../finding/say-check.ts";
import { flatten } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import type { Feature } from "../../plate/plate.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { featurePlace } from "../view.ts";

/** From the smallest to the largest radius, mm. */
export const OUT_OF_ROUND = 0.02;
/** Rounder than this, as a share of its radius, an opening was meant round: a hexagon is 0.13 out. */
const MEANT = 0.08;
/** With no more flats than this it is a polygon on purpose. */
const POLYGON = 8;
const FACETS = 0.001;

export const round: Rule = {
  code: "hole-not-round",
  asks: "Are holes that were meant round truly round?",
  reason:
    "A hole drawn as flats or an ellipse is smaller one way: the screw or bearing does not go in.",
  limits: [
    {
      what: "largest less smallest radius",
      value: `${OUT_OF_ROUND} mm`,
      source: `${COMMON_PRACTICE}: below what a router repeats (0.05 mm)`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p.openings
        .filter((f) => f.kind === "window")
        .flatMap((f) => {
          const { least, most } = radii(f);
          const off = most - least;
          if (off <= OUT_OF_ROUND + AT_LIMIT || off > MEANT * most || isPolygon(f)) return [];
          const data = { found: off, wanted: OUT_OF_ROUND, least: 2 * least, most: 2 * most };
          return [reportCheck("hole-not-round", data, featurePlace(p, f))];
        }),
    ),
};

/** About the centre of area; edges are looked at in their middles too, or flats would seem round. */
function radii(f: Feature): { least: number; most: number } {
  const corners = flatten(f.contour, FACETS);
  const around = corners.map((p, i) => {
    const q = corners[(i + 1) % corners.length] ?? p;
    return distance(f.at, { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });
  });
  const all = [...corners.map((p) => distance(f.at, p)), ...around];
  return { least: Math.min(...all), most: Math.max(...all) };
}

function isPolygon(f: Feature): boolean {
  const { segments } = f.contour;
  return segments.length <= POLYGON && segments.every((s) => s.kind === "line");
}
