/** Outside corners that are sharp. Told once for a plate. */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { turnBetween } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import type { Point, Segment } from "../../geometry/shape.ts";
import { radians } from "../../geometry/trig.ts";
import { COMMON_PRACTICE, type Rule } from "../rule.ts";
import { type PlateView, pointPlace } from "../view.ts";

/** Corners that turn by less are no corners to hit. */
export const SHARP_DEG = 30;
/** A rounding smaller than this does not help, mm. */
export const LEAST_RADIUS = 0.5;
/** Within this a corner belongs to a tenon, whose corners are meant, mm. */
const TENON = 0.05;

export const outsideCorner: Rule = {
  code: "outside-corner-sharp",
  asks: "Are outside corners rounded?",
  reason: "A sharp corner of laminate splits when it hits the ground, and cuts hands and wires.",
  limits: [
    {
      what: "radius of a corner that turns by more than 30°",
      value: `${LEAST_RADIUS} mm; a few mm are better`,
      source: `${COMMON_PRACTICE}: published plates are rounded by a few mm`,
    },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingFor),
};

function findingFor(p: PlateView): Finding[] {
  const { segments } = p.plate.outer;
  const sharp = segments.flatMap((s, i) => {
    const next = segments[(i + 1) % segments.length] as Segment;
    // A tiny fillet is as good as none.
    if (s.kind === "arc" && s.radius < LEAST_RADIUS && s.sweep > radians(SHARP_DEG)) {
      return [{ at: s.from, radius: s.radius, origin: s.origin, ends: [s.from, s.to] }];
    }
    if (turnBetween(s, next) <= radians(SHARP_DEG)) return [];
    return [
      {
        at: s.to,
        radius: 0,
        origin: s.origin,
        ends: [isRelief(s) ? s.from : s.to, isRelief(next) ? next.to : s.to],
      },
    ];
  });
  const own = sharp.filter((c) => !c.ends.some((e) => isTenon(p, e)));
  const [first] = own;
  if (first === undefined) return [];
  const data = { found: first.radius, wanted: LEAST_RADIUS, corners: own.length };
  return [reportCheck("outside-corner-sharp", data, pointPlace(p, first.at, first.origin))];
}

/** A bow into the plate, as it is cut beside a tenon's root: its other end tells whose corner this is. */
function isRelief(s: Segment): boolean {
  return s.kind === "arc" && s.sweep < 0;
}

function isTenon(p: PlateView, at: Point): boolean {
  return (p.plate.matingEdges ?? []).some(
    (e) => distance(e.from, at) <= TENON || distance(e.to, at) <= TENON,
  );
}
