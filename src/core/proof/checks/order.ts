/**
 * Inner features before their outline, plate by plate: once its outline has been cut into, a plate no
 * longer lies still.
 *
 * A run of strokes below the sheet's top belongs to every feature whose contour it starts in, and to
 * every outline that it starts beside on the outer side. A plate that lies in another's window is so
 * an inner thing of that other plate, too.
 */
import type { SheetInput } from "../proof.ts";
import { type Curve, distanceToPoint, nearestT, xAt, yAt } from "../removal/curve.ts";
import { insideRing } from "../removal/inside.ts";
import type { Stroke } from "../removal/stroke.ts";
import { type Part, type Ring, type Target, within } from "../target.ts";
import { mostOf, offer, type Worst } from "./worst.ts";

const SKIN = -0.001;

interface PlateState {
  readonly part: Part;
  /** Outline is cut into. */
  begun: boolean;
}

export function checkOrder(input: SheetInput, target: Target, strokes: readonly Stroke[]): Worst {
  const worst = mostOf("inner-after-outline", "cuts", 0);
  offer(worst, 0, () => ({}));
  const plates = target.parts.map((part): PlateState => ({ part, begun: false }));
  let late = 0;
  let inside = false;
  let previous: Stroke | undefined;
  for (const s of strokes) {
    const below = s.z0 < SKIN || s.z1 < SKIN;
    if (!below || previous?.program !== s.program) inside = false;
    previous = s;
    if (!below) continue;
    // Where a run begins, then the middles: a stroke's end is the next one's beginning.
    const t = inside ? 0.5 : s.z0 < s.z1 ? 0 : 1;
    inside = s.z1 < SKIN;
    const x = xAt(s.curve, t);
    const y = yAt(s.curve, t);
    const reach = s.radius + 2 * input.limits.finishStock + 0.1;
    for (let i = 0; i < plates.length; i++) {
      const ring = passed(plates[i] as PlateState, x, y, reach);
      if (ring !== undefined) offerLate(worst, ++late, { at: [x, y], s, ring, input, target });
    }
  }
  return worst;
}

/** The feature there of a plate whose outline has been cut into; that it is, is noted for the next. */
function passed(plate: PlateState, x: number, y: number, reach: number): Ring | undefined {
  if (plate.begun) return featureAt(plate.part, x, y);
  plate.begun = beside(plate.part.outline, x, y, reach);
  return undefined;
}

function featureAt(part: Part, x: number, y: number): Ring | undefined {
  if (!near(part.outline, x, y, 0)) return undefined;
  return part.inner.find((r) => within(r, x, y));
}

interface Late {
  readonly at: readonly [number, number];
  readonly s: Stroke;
  readonly ring: Ring;
  readonly input: SheetInput;
  readonly target: Target;
}

function offerLate(worst: Worst, count: number, { at, s, ring, input, target }: Late): void {
  offer(worst, count, () => ({
    at,
    sheet: target.sheet.name,
    plate: ring.plate.plate,
    program: { file: input.programs[s.program]?.file ?? "", line: s.line },
    drawing: ring.contour.segments[0]?.origin,
  }));
}

function near({ box: { min, max } }: Ring, x: number, y: number, by: number): boolean {
  return x > min.x - by && x < max.x + by && y > min.y - by && y < max.y + by;
}

/** Is the point just outside the outline? */
export function beside(outline: Ring, x: number, y: number, reach: number): boolean {
  if (!near(outline, x, y, reach)) return false;
  return outline.curves.some(
    (c) => distanceToPoint(c, x, y) <= reach && isBeyond(outline, c, x, y),
  );
}

/** Is a point on the other side of the outline's curve than the plate, seen from the nearest place on it? */
function isBeyond({ curves }: Ring, c: Curve, x: number, y: number): boolean {
  const t = nearestT(c, x, y);
  const away = 1 + 1e-3;
  const px = xAt(c, t);
  const py = yAt(c, t);
  return !insideRing(curves, px + (x - px) * away, py + (y - py) * away);
}
