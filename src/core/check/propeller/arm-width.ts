/** Arms that are narrow or wide for the blade that passes over them. */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { centroid } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import type { Pattern } from "../shape/pattern.ts";
import { type PlateView, pointPlace } from "../view.ts";

/** Width of the arm in chords of the blade. */
export const LEAST_CHORDS = 1;
export const MOST_CHORDS = 1.5;
/** Where the blade does most of its work, as a share of its length. */
const STATION = 0.7;

export const armWidth: Rule = {
  code: "arm-width-for-propeller",
  asks: "Is the arm about as wide as the blade that passes over it?",
  reason:
    "A narrower arm gives away stiffness for little thrust; a wider one blocks the wash of the blade.",
  limits: [
    {
      what: "the arm's width under 0.7 of the blade, in chords (props.chord)",
      value: `${LEAST_CHORDS} to ${MOST_CHORDS}`,
      source: `${COMMON_PRACTICE}: about the blade's chord or a little more; the upper end is derived`,
    },
  ],
  when: "plates",
  run: ({ propellers, plates }) => {
    const chord = propellers?.chord;
    if (propellers === undefined || chord === undefined) return [];
    const station = (STATION * propellers.diameter) / 2;
    return plates.flatMap((p) =>
      p
        .patterns()
        .filter((q) => q.kind === "mount")
        .flatMap((q) => widthFinding(p, q, station, chord)),
    );
  },
};

function widthFinding(p: PlateView, q: Pattern, station: number, chord: number): Finding[] {
  const middle = centroid(p.plate.outer);
  const reach = distance(middle, q.centre);
  if (reach <= 1) return [];
  const u = { x: (middle.x - q.centre.x) / reach, y: (middle.y - q.centre.y) / reach };
  const at = { x: q.centre.x + u.x * station, y: q.centre.y + u.y * station };
  const found = widthAt(p, at, { x: -u.y, y: u.x });
  if (found === undefined) return [];
  const chords = found / chord;
  if (chords >= LEAST_CHORDS - AT_LIMIT && chords <= MOST_CHORDS + AT_LIMIT) return [];
  const wanted = (chords < LEAST_CHORDS ? LEAST_CHORDS : MOST_CHORDS) * chord;
  return [reportCheck("arm-width-for-propeller", { found, wanted, chord }, pointPlace(p, at))];
}

/** Longer than any arm is wide, mm. */
const ACROSS = 100;

/** From edge to edge through a point; undefined where the point is beyond the plate. */
function widthAt(p: PlateView, at: Point, v: Point): number | undefined {
  const end = (k: number): Point => ({ x: at.x + k * v.x, y: at.y + k * v.y });
  const left = p.outline().hits(at, end(ACROSS))[0];
  const right = p.outline().hits(at, end(-ACROSS))[0];
  return left === undefined || right === undefined ? undefined : left.along + right.along;
}
