/**
 * Inner features before their outline, plate by plate: once its outline has been cut into, a plate no
 * longer lies still.
 *
 * A run of strokes below the sheet's top belongs to every feature whose contour it starts in, and to
 * every outline that it starts beside on the outer side. A plate that lies in another's window is so
 * an inner thing of that other plate, too.
 */
import { bounds, contains } from "../../geometry/contour.ts";
import type { Box, Point } from "../../geometry/shape.ts";
import type { ProofInput } from "../proof.ts";
import { distanceToPoint, nearestT, xAt, yAt } from "../removal/curve.ts";
import type { Stroke } from "../removal/stroke.ts";
import type { Ring, Target } from "../target.ts";
import { mostOf, offer, type Worst } from "./worst.ts";

const SKIN = -0.001;

interface PlateState {
  readonly outline: Ring;
  readonly inner: readonly Ring[];
  readonly box: Box;
  begun: boolean;
}

export function checkOrder(input: ProofInput, target: Target, strokes: readonly Stroke[]): Worst {
  const worst = mostOf("inner-after-outline", "cuts", 0);
  offer(worst, 0, () => ({}));
  const plates = statesOf(target);
  let late = 0;
  let inside = false;
  let previous: Stroke | undefined;
  for (const s of strokes) {
    const below = s.z0 < SKIN || s.z1 < SKIN;
    if (!below || previous?.program !== s.program) inside = false;
    previous = s;
    if (!below) continue;
    const p = inside ? midOf(s) : startOf(s);
    inside = s.z1 < SKIN;
    const reach = s.radius + 2 * input.limits.finishStock + 0.1;
    for (const plate of plates) {
      const what = plate.begun ? featureAt(plate, p) : undefined;
      if (what !== undefined) {
        late++;
        offer(worst, late, () => ({
          at: [p.x, p.y],
          sheet: target.sheet.name,
          plate: plate.outline.plate.plate,
          program: { file: input.programs[s.program]?.file ?? "", line: s.line },
          drawing: what.contour.segments[0]?.origin,
        }));
      } else if (!plate.begun && beside(plate, p, reach)) plate.begun = true;
    }
  }
  return worst;
}

function statesOf(target: Target): PlateState[] {
  return target.rings
    .filter((r) => r.feature === undefined)
    .map((outline) => ({
      outline,
      inner: target.rings.filter((r) => r.plate === outline.plate && r.feature !== undefined),
      box: bounds(outline.contour),
      begun: false,
    }));
}

function startOf(s: Stroke): Point {
  const deep = s.z0 < s.z1 ? 0 : 1;
  return { x: xAt(s.curve, deep), y: yAt(s.curve, deep) };
}

function midOf(s: Stroke): Point {
  return { x: xAt(s.curve, 0.5), y: yAt(s.curve, 0.5) };
}

function near(box: Box, p: Point, by: number): boolean {
  return (
    p.x > box.min.x - by && p.x < box.max.x + by && p.y > box.min.y - by && p.y < box.max.y + by
  );
}

function featureAt(plate: PlateState, p: Point): Ring | undefined {
  if (!near(plate.box, p, 0)) return undefined;
  return plate.inner.find((r) => contains(r.contour, p));
}

/** Is the point just outside the outline? */
function beside(plate: PlateState, p: Point, reach: number): boolean {
  if (!near(plate.box, p, reach)) return false;
  return plate.outline.curves.some((c) => {
    if (distanceToPoint(c, p.x, p.y) > reach) return false;
    const t = nearestT(c, p.x, p.y);
    return !contains(plate.outline.contour, {
      x: p.x + (p.x - xAt(c, t)) * 1e-3,
      y: p.y + (p.y - yAt(c, t)) * 1e-3,
    });
  });
}
