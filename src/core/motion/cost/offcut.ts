/**
 * What stays of a sheet as a piece that can be used again: the best strip along one of its sides, as far as the
 * plates and their kerfs let it. A saw cuts it off in one straight cut.
 *
 * Only whole strips count. What lies between plates, and strips too small for an arm, are waste.
 */
import { bounds, rectangle } from "../../geometry/contour.ts";
import { areaOf, intersect } from "../../geometry/region.ts";
import type { Box, Contour } from "../../geometry/shape.ts";

export interface Offcut {
  /** Sheet frame. */
  readonly box: Box;
  /** mm²; of the sheet's own outline within the box. */
  readonly area: number;
}

/** Smallest sides of a piece that is kept, mm: room for an arm's blank and the margins round it. */
const SHORT = 50;
const LONG = 120;

/** `kerf`: how far outside a plate's box its cuts reach. */
export function offcutOf(
  outline: Contour,
  plates: readonly Box[],
  kerf: number,
): Offcut | undefined {
  const sheet = bounds(outline);
  if (plates.length === 0) return undefined;
  const taken = plates.reduce((a, b) => ({
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  }));
  const strips: Box[] = [
    { min: { x: taken.max.x + kerf, y: sheet.min.y }, max: sheet.max },
    { min: sheet.min, max: { x: taken.min.x - kerf, y: sheet.max.y } },
    { min: { x: sheet.min.x, y: taken.max.y + kerf }, max: sheet.max },
    { min: sheet.min, max: { x: sheet.max.x, y: taken.min.y - kerf } },
  ];
  let best: Offcut | undefined;
  for (const box of strips.filter(isKept)) {
    const { min, max } = box;
    const area = areaOf(intersect([outline], [rectangle(min.x, min.y, max.x, max.y)]));
    if (area > (best?.area ?? 0)) best = { box, area };
  }
  return best;
}

function isKept({ min, max }: Box): boolean {
  const w = max.x - min.x;
  const h = max.y - min.y;
  return Math.min(w, h) >= SHORT && Math.max(w, h) >= LONG;
}
