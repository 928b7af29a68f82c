/**
 * Arms that do not lie along the fibres of woven sheet. An arm is a long plate, or the way from a plate's middle to a
 * motor's pattern; where that way leaves the plate, as on a body with arms straight across, the way to the nearest
 * other motor that stays on it. Balanced cloth is alike at every quarter turn.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { centroid, contains } from "../../geometry/contour.ts";
import { meetings } from "../../geometry/intersect.ts";
import { angleOf, distance, line, placePoint } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { atan2, degrees, radians } from "../../geometry/trig.ts";
import type { Placement } from "../../layout/layout.ts";
import { COMMON_PRACTICE, type Rule } from "../rule.ts";
import { longAxis } from "../shape/long-axis.ts";
import { modulusAt, WOVEN } from "../shape/off-axis.ts";
import { type JobView, type PlateView, pointPlace } from "../view.ts";

/** An arm keeps this share of the stiffness that it would have along the fibres; about 5°. */
export const LEAST_SHARE = 0.9;
/** A plate this many times as long as it is wide is an arm. */
const LONG = 2.5;
/** Motors nearer to the middle of their plate are not out on an arm, mm. */
const OUT = 20;

export const fibre: Rule = {
  code: "arm-off-fibre",
  asks: "Do arms lie along the fibres?",
  reason:
    "Woven carbon is stiff along its two directions only: 10° off costs 26 %, 45° costs 75 %.",
  limits: [
    {
      what: "share of the stiffness along the fibres, E(angle)/E(0)",
      value: `${LEAST_SHARE}`,
      source: `Jones, Mechanics of Composite Materials, ch. 2, for standard carbon fabric (70, 70, 5 GPa, 0.10); the level is ${COMMON_PRACTICE}`,
    },
  ],
  when: "layout",
  run: (view) =>
    (view.layouts ?? []).flatMap(({ sheet, placements }) =>
      sheet.material !== "carbon-woven"
        ? []
        : placements
            .filter((p) => p.copy === 1)
            .flatMap((p) => armFinding(view, p, sheet.fibreDeg)),
    ),
};

function armFinding(view: JobView, placement: Placement, fibreDeg: number): Finding[] {
  const plate = view.plates.find((p) => p.plate.name === placement.plate.name);
  if (plate === undefined) return [];
  const arms = armsOf(plate);
  const off = arms.map((arm) => offAxis(sheetAngle(placement, arm), fibreDeg));
  const worst = Math.max(0, ...off.map(Math.abs));
  const share = modulusAt(WOVEN, worst) / WOVEN.e1;
  const i = off.findIndex((a) => Math.abs(a) === worst);
  const arm = arms[i];
  if (share >= LEAST_SHARE || arm === undefined) return [];
  const data = {
    found: share,
    wanted: LEAST_SHARE,
    offDeg: Math.round(degrees(worst) * 100) / 100,
    arms: arms.length,
    armDeg: Math.round(degrees(angleOf(arm.from, arm.to)) * 100) / 100,
    fixed: plate.fibreDeg === undefined ? "no" : "yes",
  };
  return [reportCheck("arm-off-fibre", data, pointPlace(plate, arm.to))];
}

interface Arm {
  readonly from: Point;
  readonly to: Point;
}

function armsOf(p: PlateView): Arm[] {
  const axis = longAxis(p.plate.outer);
  if (axis.length >= LONG * axis.width) return [{ from: axis.from, to: axis.to }];
  const { outer } = p.plate;
  const middle = centroid(outer);
  const motors = p
    .patterns()
    .filter((q) => q.kind === "mount" && contains(outer, q.centre))
    .map((q) => q.centre);
  return motors
    .filter((to) => distance(to, middle) >= OUT)
    .map((to) => {
      if (staysOn(outer, middle, to)) return { from: middle, to };
      const others = motors
        .filter((q) => q !== to && staysOn(outer, q, to))
        .sort((a, b) => distance(a, to) - distance(b, to));
      return { from: others[0] ?? middle, to };
    });
}

/** Between points inside an outline: does the straight way never leave it? */
function staysOn(outer: Contour, from: Point, to: Point): boolean {
  const way = line(from, to);
  return outer.segments.every((s) => meetings(way, s).length === 0);
}

function sheetAngle({ plateToSheet }: Placement, { from, to }: Arm): number {
  const a = placePoint(from, plateToSheet);
  const b = placePoint(to, plateToSheet);
  return atan2(b.y - a.y, b.x - a.x);
}

/** To the nearest of the four directions of the cloth, rad, −π/4 … π/4. */
function offAxis(angle: number, fibreDeg: number): number {
  const off = angle - radians(fibreDeg);
  const quarter = Math.PI / 2;
  return off - quarter * Math.round(off / quarter);
}
