/**
 * Offcuts: what of a sheet is left in one piece and wide enough to lay plates on again.
 *
 * Taken from the sheet: every plate with the kerf round it, in which the stubs of its tabs stand; keep-outs,
 * for what was clamped or screwed there may be marked; and everything narrower than `leastWidth`, webs between
 * plates above all. A plate's window gives an offcut too where what falls out of it is large enough.
 *
 * A sheet's outline is one ring: a hole in an offcut is joined to its edge by a slit. Outlines are polygons
 * within 0.05 mm, and lie inside what is left.
 * Cost: some polygon clips on the sheet's contours.
 */

import { bounds, contains, polygon, rectangle, signedArea } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { difference, intersect, union } from "../../geometry/region.ts";
import { circle } from "../../geometry/segment.ts";
import type { Box, Contour, Point } from "../../geometry/shape.ts";
import type { KeepOut, SheetLayout } from "../layout.ts";
import { largestRectangle } from "./clear-rectangle.ts";

export interface Offcut {
  readonly sheet: string;
  readonly thickness: number;
  readonly fibreDeg: number;
  /** Counter-clockwise, sheet frame. */
  readonly outline: Contour;
  readonly area: number;
  /** The largest upright rectangle clear inside it, sheet frame. */
  readonly clear: Box;
}

export interface OffcutOptions {
  /** Effective diameter of the cutter that went round the plates, mm. */
  readonly kerf: number;
  /** Narrower parts are waste, mm. */
  readonly leastWidth: number;
}

/** Faces that were cut are rough: this much more is left out, mm. */
const CLEAN = 0.1;
const FACET = 0.05;

/** Largest first. */
export function offcutsOf(layout: SheetLayout, options: OffcutOptions): Offcut[] {
  const { sheet, placements } = layout;
  const grown = placements.flatMap(({ outer, features }) => {
    const windows = features.filter((f) => f.kind !== "recess").map((f) => f.contour);
    return offsetRings([outer, ...windows], options.kerf + CLEAN);
  });
  const marked = sheet.keepOuts.map(keepOutRing);
  const taken = union(grown, marked, FACET);
  const left = opened(difference([sheet.outline], taken, FACET), options.leastWidth / 2);
  return pieces(left)
    .map((rings) => slitOpen(rings))
    .map((outline): Offcut => {
      const thickness = sheet.measuredThickness ?? sheet.thickness;
      const { name, fibreDeg } = sheet;
      const area = signedArea(outline);
      return { sheet: name, thickness, fibreDeg, outline, area, clear: largestRectangle(outline) };
    })
    .filter((o) => shortSide(o.clear) >= options.leastWidth / 2)
    .sort((a, b) => b.area - a.area);
}

function shortSide({ min, max }: Box): number {
  return Math.min(max.x - min.x, max.y - min.y);
}

function keepOutRing(keepOut: KeepOut): Contour {
  if (keepOut.kind === "disc") {
    return { segments: [circle(keepOut.at, keepOut.diameter / 2, true)] };
  }
  const { min, max } = keepOut.box;
  return rectangle(min.x, min.y, max.x, max.y);
}

/** Without what a disc of this radius does not reach from inside (opening, Serra 1982). */
function opened(rings: readonly Contour[], radius: number): Contour[] {
  if (rings.length === 0) return [];
  const core = offsetRings(rings, -radius);
  if (core.length === 0) return [];
  return intersect(offsetRings(core, radius - FACET), rings, FACET);
}

/** Outer rings, each with its holes. */
function pieces(rings: readonly Contour[]): Contour[][] {
  const outers = rings.filter((r) => signedArea(r) > 0);
  return outers.map((outer) => [
    outer,
    ...rings.filter((r) => signedArea(r) < 0 && contains(outer, r.segments[0]?.from ?? ZERO)),
  ]);
}

const ZERO: Point = { x: 0, y: 0 };

/** Wide enough to stay open when coordinates are rounded, mm. */
const SLIT = 0.02;

/** One ring: a slit from every hole straight to the left, through the edge or into the next hole. */
function slitOpen(rings: readonly Contour[]): Contour {
  const [outer, ...holes] = rings as [Contour, ...Contour[]];
  if (holes.length === 0) return outer;
  const edge = bounds(outer);
  const slits = holes.map((hole) => {
    const left = hole.segments.reduce((a, s) => (s.from.x < a.x ? s.from : a), {
      x: Infinity,
      y: 0,
    });
    const reach = wayLeft(left, [outer, ...holes.filter((h) => h !== hole)], edge.min.x);
    return rectangle(reach - SLIT, left.y - SLIT / 2, left.x + SLIT, left.y + SLIT / 2);
  });
  const cut = difference(rings, slits, FACET).filter((r) => signedArea(r) > 0);
  return cut.reduce((a, b) => (signedArea(b) > signedArea(a) ? b : a), polygon([]));
}

/** The nearest crossing of the rings to the left of a point. */
function wayLeft(p: Point, rings: readonly Contour[], furthest: number): number {
  let best = furthest;
  for (const { from, to } of rings.flatMap((r) => r.segments)) {
    if (from.y > p.y === to.y > p.y) continue;
    const x = from.x + ((p.y - from.y) / (to.y - from.y)) * (to.x - from.x);
    if (x < p.x && x > best) best = x;
  }
  return best;
}
