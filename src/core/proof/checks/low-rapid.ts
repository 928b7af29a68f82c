/**
 * Rapids below clearance pass over whole sheet alone: not over its edge, nor over or against a piece that has been cut
 * into all the way round or is about to be, whether its tabs hold it or not: that might stand up.
 *
 * A piece is a plate from the first stroke beside its outline on, and what lies in an opening with tabs from the
 * first stroke beside its wall on. How near the cutter's side comes is told. Keep-outs are judged with all other
 * moves (motion.ts). What it can miss: a sheet that does not lie flat, and chips.
 */
import type { SheetInput } from "../proof.ts";
import { boxAround, type Curve, curveOf, distanceToPoint, xAt, yAt } from "../removal/curve.ts";
import { gapBetween } from "../removal/gap.ts";
import { insideRing } from "../removal/inside.ts";
import { lowest, type Stroke } from "../removal/stroke.ts";
import { type Ring, type Target, within } from "../target.ts";
import { beside } from "./order.ts";
import { leastOf, offer, type Worst } from "./worst.ts";

/** Rounding of a program's heights, mm. */
const HEIGHT_ROOM = 0.001;
/** The cutter's side in the kerf of its own cut: rounding, and far less than what stands up, mm. */
const KERF_ROOM = 0.05;
const SKIN = -0.001;

interface Piece {
  readonly ring: Ring;
  begun: boolean;
}

export function checkLowRapids(
  input: SheetInput,
  target: Target,
  strokes: readonly Stroke[],
): Worst {
  const room = leastOf("low-rapid-room", "mm", -KERF_ROOM);
  const { clearance } = input.limits;
  const low = (s: Stroke): boolean =>
    s.rapid && s.curve.length > 0 && lowest(s) < clearance - HEIGHT_ROOM;
  if (!strokes.some(low)) return room;
  const pieces = target.rings
    .filter((ring) => ring.feature === undefined || ring.tabs.length > 0)
    .map((ring): Piece => ({ ring, begun: false }));
  const edge = target.sheet.outline.segments.map(curveOf);
  const seen = new Set<Curve>();
  for (const s of strokes) {
    if (low(s)) offerRoom(room, roomOf(s, edge, pieces), s, { input, target });
    // What the first pass on a way does not begin, the next does not either.
    else if ((s.z0 < SKIN || s.z1 < SKIN) && !seen.has(s.curve)) {
      seen.add(s.curve);
      markBegun(pieces, s, input.limits.finishStock);
    }
  }
  return room;
}

interface Asked {
  readonly input: SheetInput;
  readonly target: Target;
}

function offerRoom(room: Worst, mm: number, s: Stroke, { input, target }: Asked): void {
  offer(room, mm, () => ({
    at: [s.curve.x1, s.curve.y1],
    sheet: target.sheet.name,
    program: { file: input.programs[s.program]?.file ?? "", line: s.line },
  }));
}

function markBegun(pieces: readonly Piece[], { curve, radius }: Stroke, finishStock: number): void {
  const reach = radius + 2 * finishStock + 0.1;
  for (const piece of pieces) {
    if (piece.begun || !isNear(piece.ring, curve, reach)) continue;
    piece.begun =
      isBeside(piece.ring, curve, 0, reach) ||
      isBeside(piece.ring, curve, 0.5, reach) ||
      isBeside(piece.ring, curve, 1, reach);
  }
}

function isNear({ box: { min, max } }: Ring, c: Curve, by: number): boolean {
  return c.right > min.x - by && c.left < max.x + by && c.high > min.y - by && c.low < max.y + by;
}

/** On the side of the ring where the cutter goes, and no further from it than a cut along it. */
function isBeside(ring: Ring, c: Curve, t: number, reach: number): boolean {
  const [x, y] = [xAt(c, t), yAt(c, t)];
  if (ring.feature === undefined) return beside(ring, x, y, reach);
  return within(ring, x, y) && ring.curves.some((w) => distanceToPoint(w, x, y) <= reach);
}

/** From the cutter's side to the nearest edge or begun piece; negative where it is over one. */
function roomOf(s: Stroke, edge: readonly Curve[], pieces: readonly Piece[]): number {
  const { curve, radius } = s;
  const gapTo = (walls: readonly Curve[]): number =>
    Math.min(...walls.map((w) => gapBetween(curve, w).distance));
  let least = gapTo(edge);
  if (!insideRing(edge, curve.x1, curve.y1)) least = -least;
  const [x0, y0, x1, y1] = boxAround(curve, radius);
  for (const { ring, begun } of pieces) {
    const { min, max } = ring.box;
    if (!begun || x0 > max.x || x1 < min.x || y0 > max.y || y1 < min.y) continue;
    const over = ring.feature === undefined && within(ring, curve.x1, curve.y1);
    least = Math.min(least, over ? 0 : gapTo(ring.curves));
  }
  return least - radius;
}
