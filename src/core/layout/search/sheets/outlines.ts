/**
 * Plates, keep-outs and the sheet's edge as polygons for the search, each a little larger than it is.
 *
 * A plate is grown by half its gap, a keep-out or the edge by what is left of the distance that plates keep from it;
 * the polygons cover the grown shapes. So whatever the search keeps apart is apart. Windows that another plate might
 * fit into stay open, all others are filled.
 */
import { rectangle, reversedContour, signedArea } from "../../../geometry/contour.ts";
import { offsetRings } from "../../../geometry/offset.ts";
import { circle } from "../../../geometry/segment.ts";
import type { Contour } from "../../../geometry/shape.ts";
import { coverOf } from "../../cover.ts";
import type { KeepOut } from "../../layout.ts";
import type { Item } from "../../riders.ts";
import type { Room } from "../../room.ts";
import type { Extent, Outline } from "../contact/forms.ts";

/** Polygons reach this far beyond what they cover, mm. */
export const COARSE = 0.2;
/** Bays are filled this deep: they hardly ever take a neighbour's corner, and cost a convex part each, mm. */
const FILLED = 0.5;
/** Places are rounded to 0.001 mm; two of them by half of it each, along both axes. */
export const ROUNDING = 0.001;
/** What an offset may be short of its distance, mm. */
const SHORT = 0.002;

/** The plate that the others of an item ride in. */
export function plateOf(item: Item): { outer: Contour; windows: Contour[] } {
  const first = item.members[0];
  if (first === undefined) return { outer: { segments: [] }, windows: [] };
  const ridden = new Set(item.members.map((m) => m.inside?.feature));
  const { outer, features } = first.order.plate;
  const open = features.filter((f) => f.kind !== "recess" && !ridden.has(f.id));
  return { outer, windows: open.map((f) => f.contour) };
}

/** The shape as it is: for the walls, which ask for its box alone. */
export function bareOutline(item: Item): Outline {
  return { outer: coverOf(plateOf(item).outer, FINE), holes: [] };
}

const FINE = 0.02;

/** Grown by `distance`; `open` says which windows may take another plate, by what is free in them. */
export function grownOutline(
  item: Item,
  distance: number,
  open: (window: Contour) => boolean,
): Outline {
  const { outer, windows } = plateOf(item);
  const grown = offsetRings([outer, ...windows.filter(open)], distance + ROUNDING + SHORT);
  const holes = grown.filter((c) => signedArea(c) < 0 && open(c));
  return {
    outer: coverOf(outermost(grown), COARSE, FILLED),
    holes: holes.map((c) => coverOf(c, COARSE, FILLED)),
  };
}

function outermost(rings: readonly Contour[]): Contour {
  return rings.reduce((a, b) => (signedArea(b) > signedArea(a) ? b : a), rings[0] as Contour);
}

/** About its own zero, and where that lies on the sheet: equal keep-outs have equal outlines. */
export interface Standing {
  readonly keepOut: KeepOut;
  readonly x: number;
  readonly y: number;
}

export function standing(keepOut: KeepOut): Standing {
  if (keepOut.kind === "disc") {
    const { x, y } = keepOut.at;
    return { keepOut: { ...keepOut, at: { x: 0, y: 0 } }, x, y };
  }
  const { min, max } = keepOut.box;
  const box = { min: { x: 0, y: 0 }, max: { x: max.x - min.x, y: max.y - min.y } };
  return { keepOut: { kind: "box", box }, x: min.x, y: min.y };
}

/**
 * A keep-out grown by `distance`, which is below 0 where plates are grown by more than they keep from it. A box then
 * shrinks by less, so that its corners too are as far off as its sides.
 */
export function keepOutOutline(keepOut: KeepOut, distance: number): Outline {
  const d = distance + ROUNDING + SHORT;
  if (keepOut.kind === "disc") {
    const radius = Math.max(LEAST, keepOut.diameter / 2 + d);
    return { outer: coverOf({ segments: [circle(keepOut.at, radius, true)] }, COARSE), holes: [] };
  }
  const { x, y } = keepOut.box.max;
  const by = Math.max(Math.min(0, d * Math.SQRT1_2), LEAST - Math.min(x, y) / 2);
  const box = rectangle(-by, -by, x + by, y + by);
  const grown = d > 0 ? outermost(offsetRings([box], d)) : box;
  return { outer: coverOf(grown, COARSE), holes: [] };
}

/** Something must stand there, however little of a keep-out is left, mm. */
const LEAST = 0.01;

/** How far the frame reaches outward: a plate that lies across it is led back to the inside. */
const FRAME = 40;

/** What is no sheet round a sheet that is no rectangle, grown inward by `distance`. */
export function frameOutline({ sheet, clear, margin }: Room, distance: number): Outline {
  const inset = offsetRings([sheet.outline], -(distance + ROUNDING + SHORT));
  const holes = inset.filter((c) => signedArea(c) > 0).map(reversedContour);
  const out = FRAME - margin;
  const [x0, y0] = [clear.min.x - out, clear.min.y - out];
  const [x1, y1] = [clear.max.x + out, clear.max.y + out];
  return {
    outer: [x0, y0, x1, y0, x1, y1, x0, y1],
    holes: holes.map((c) => coverOf(c, COARSE)),
  };
}

/** The box of a sheet's inside, less its margin, and less what rounding takes. */
export function insideOf({ clear }: Room): Extent | undefined {
  const [x0, y0] = [clear.min.x + ROUNDING, clear.min.y + ROUNDING];
  const [x1, y1] = [clear.max.x - ROUNDING, clear.max.y - ROUNDING];
  return x1 > x0 && y1 > y0 ? { x0, y0, x1, y1 } : undefined;
}
