/**
 * Corners into which a round cutter does not come: where an opening's wall, or a bay of the outline, turns sharply or
 * on a radius smaller than the cutter's. What stays of a corner of turn φ is r²(tan φ/2 − φ/2), its tip
 * r(1/cos φ/2 − 1) from the cutter.
 */
import { oriented, turnBetween } from "../../geometry/contour.ts";
import { pointAt } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { cos, tan } from "../../geometry/trig.ts";

export interface InsideCorner {
  readonly at: Point;
  /** Change of direction, rad. */
  readonly turn: number;
  /** 0 where it is sharp. */
  readonly radius: number;
  readonly origin: Segment["origin"];
}

/** Changes of direction below this are drawing noise, rad. */
const STRAIGHT = 1e-3;

/** `inside`: the cutter is within the contour; sharp corners and fillets of less than `below`. */
export function insideCorners(
  contour: Contour,
  side: "inside" | "outside",
  below: number,
): InsideCorner[] {
  const { segments } = oriented(contour, true);
  const sign = side === "inside" ? 1 : -1;
  if (segments.length === 1) return [];
  return segments.flatMap((s, i): InsideCorner[] => {
    const found: InsideCorner[] = [];
    const next = segments[(i + 1) % segments.length] as Segment;
    const turn = sign * turnBetween(s, next);
    if (turn > STRAIGHT) found.push({ at: s.to, turn, radius: 0, origin: next.origin });
    if (s.kind === "arc" && sign * s.sweep > 0 && s.radius < below) {
      found.push({ at: pointAt(s, 0.5), turn: sign * s.sweep, radius: s.radius, origin: s.origin });
    }
    return found;
  });
}

/** What a cutter of this radius leaves in the corner: mm from its wall to the cutter, and mm². */
export function leftIn(corner: InsideCorner, cutter: number): { mm: number; mm2: number } {
  const half = corner.turn / 2;
  const past = Math.max(0, cutter - corner.radius);
  if (half >= Math.PI / 2 - STRAIGHT) return { mm: past, mm2: 0 };
  const area = (cutter * cutter - corner.radius * corner.radius) * (tan(half) - half);
  return { mm: past * (1 / cos(half) - 1), mm2: Math.max(0, area) };
}
