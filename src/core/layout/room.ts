/**
 * The room on a sheet: inside its margin, away from its keep-outs, and where a plate may turn to.
 */
import { bounds, contains, rectangle, signedArea } from "../geometry/contour.ts";
import type { Box, Point } from "../geometry/shape.ts";
import { type Boxed, boxed, curveDistance, discDistance, holds, SLACK } from "./clearance.ts";
import type { KeepOut, Sheet } from "./layout.ts";

export interface Room {
  readonly sheet: Sheet;
  readonly outline: Boxed;
  /** The outline fills its box, so that a plate's box answers for the plate. */
  readonly rectangular: boolean;
  /** Least distance from a plate to the sheet's edge: the job's, or enough for the cutter and 1 mm. */
  readonly margin: number;
  /** The outline's box less the margin. */
  readonly clear: Box;
  readonly toKeepOut: number;
}

export function roomOf(sheet: Sheet, widestCutter: number): Room {
  const outline = boxed(sheet.outline);
  const { min, max } = outline.box;
  const margin = Math.max(sheet.margin, widestCutter + 1);
  const area = Math.abs(signedArea(sheet.outline));
  return {
    sheet,
    outline,
    rectangular: Math.abs(area - (max.x - min.x) * (max.y - min.y)) < SLACK,
    margin,
    clear: {
      min: { x: min.x + margin, y: min.y + margin },
      max: { x: max.x - margin, y: max.y - margin },
    },
    // The kerf along the plate, and half of it again for the arc on which the cutter comes and goes.
    toKeepOut: Math.max(1.5 * widestCutter, sheet.keepOutRoom ?? 0),
  };
}

/** Distance from a plate to the sheet's edge, `enough` or more where it is at least that; −1 where it is not wholly on the sheet. */
export function edgeDistance(room: Room, shape: Boxed, enough: number): number {
  const p = shape.contour.segments[0]?.from;
  if (p === undefined || !contains(room.outline.contour, p)) return -1;
  const d = curveDistance(shape, room.outline, enough);
  return d === 0 ? -1 : d;
}

export function keepOutDistance(shape: Boxed, keepOut: KeepOut): number {
  if (keepOut.kind === "disc") return discDistance(shape, keepOut.at, keepOut.diameter / 2);
  const box = boxed(
    rectangle(keepOut.box.min.x, keepOut.box.min.y, keepOut.box.max.x, keepOut.box.max.y),
  );
  if (holds(shape, box) || holds(box, shape)) return 0;
  return curveDistance(shape, box, Number.POSITIVE_INFINITY);
}

export function keepOutBox(keepOut: KeepOut): Box {
  if (keepOut.kind === "box") return keepOut.box;
  const r = keepOut.diameter / 2;
  const { x, y } = keepOut.at;
  return { min: { x: x - r, y: y - r }, max: { x: x + r, y: y + r } };
}

/** May a plate lie here, as far as the sheet is concerned? */
export function fits(room: Room, shape: Boxed): boolean {
  if (!boxInside(shape.box, room.clear)) return false;
  if (!room.rectangular && edgeDistance(room, shape, room.margin) < room.margin - SLACK) {
    return false;
  }
  return room.sheet.keepOuts.every((keepOut) => {
    if (boxesApart(shape.box, keepOutBox(keepOut), room.toKeepOut)) return true;
    return keepOutDistance(shape, keepOut) >= room.toKeepOut - SLACK;
  });
}

function boxInside(inner: Box, outer: Box): boolean {
  return (
    inner.min.x >= outer.min.x - SLACK &&
    inner.min.y >= outer.min.y - SLACK &&
    inner.max.x <= outer.max.x + SLACK &&
    inner.max.y <= outer.max.y + SLACK
  );
}

export function boxesApart(a: Box, b: Box, gap: number): boolean {
  return (
    a.min.x >= b.max.x + gap - SLACK ||
    b.min.x >= a.max.x + gap - SLACK ||
    a.min.y >= b.max.y + gap - SLACK ||
    b.min.y >= a.max.y + gap - SLACK
  );
}

/**
 * Turns that a plate may take, degrees in [0, 360). With a fibre direction: along the sheet's fibre, either
 * way round. Without: as drawn, or a quarter turn.
 */
export function turnsOf(fibreDeg: number | undefined, sheet: Sheet): number[] {
  if (fibreDeg === undefined) return [0, 90];
  const along = (((sheet.fibreDeg - fibreDeg) % 360) + 360) % 360;
  return [along, (along + 180) % 360];
}

/** Ends of the outline's segments: where the edge of an odd sheet may be met. */
export function outlineCorners(room: Room): Point[] {
  return room.rectangular ? [] : room.sheet.outline.segments.map((s) => s.from);
}

export function sizeOf(box: Box): { width: number; height: number } {
  return { width: box.max.x - box.min.x, height: box.max.y - box.min.y };
}

export function sheetBox(sheet: Sheet): Box {
  return bounds(sheet.outline);
}
