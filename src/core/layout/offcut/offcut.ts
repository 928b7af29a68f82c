/**
 * Offcuts: what of a sheet is left in one piece and wide enough to lay plates on again.
 *
 * Taken from the sheet: every plate with the kerf round it, in which the stubs of its tabs stand and the cutter
 * comes and goes; keep-outs, for what was clamped or screwed there may be marked; and everything narrower than
 * `leastWidth`, webs between plates above all. A plate's window gives an offcut too where what falls out of it
 * is large enough.
 *
 * A sheet's outline is one ring: a hole in an offcut is joined to its edge by a slit. Outlines are polygons that lie
 * inside what is left, and give away 0.2 mm of it at most beside round edges, and shallow bays.
 * Cost: some polygon clips on polygons of few corners.
 */

import {
  bounds,
  placeContour,
  polygon,
  rectangle,
  reversedContour,
  signedArea,
} from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { difference, intersect, ringsNested } from "../../geometry/region.ts";
import { circle } from "../../geometry/segment.ts";
import type { Box, Contour, Point, Rigid } from "../../geometry/shape.ts";
import { GAP } from "../../geometry/tolerance.ts";
import type { Plate } from "../../plate/plate.ts";
import { coverOf } from "../cover.ts";
import { type KeepOut, type SheetLayout, thicknessOf } from "../layout.ts";
import { ringArea } from "../search/contact/convex.ts";
import { largestRectangle } from "./clear-rectangle.ts";
import { contourOf, dilated } from "./dilate.ts";

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

/** The kerf, and half of it again for the arc on which the cutter comes and goes. */
const CUT = 1.5;
/** Faces that were cut are rough: this much more is left out, mm. */
const CLEAN = 0.1;
/** Chords stray from their arcs by this, mm. */
const FACET = 0.02;
/** Polygons reach this far beyond what was cut out, and this far into its bays, mm. */
const COARSE = 0.2;
const FILLED = 1;

/** What of a sheet's layout is cut. */
export interface CutSheet {
  readonly sheet: SheetLayout["sheet"];
  readonly plates: readonly CutPlate[];
}

/** Plate frame, and where its copies lie. */
export interface CutPlate {
  readonly outer: Contour;
  readonly windows: readonly Contour[];
  readonly places: readonly Rigid[];
}

export function cutSheetOf({ sheet, placements }: SheetLayout): CutSheet {
  const plates = new Map<Plate, Rigid[]>();
  for (const { plate, plateToSheet } of placements) {
    plates.set(plate, [...(plates.get(plate) ?? []), plateToSheet]);
  }
  return {
    sheet,
    plates: [...plates].map(([{ outer, features }, places]) => {
      const windows = features.filter((f) => f.kind !== "recess").map((f) => f.contour);
      return { outer, windows, places };
    }),
  };
}

/** Largest first. */
export function offcutsOf({ sheet, plates }: CutSheet, options: OffcutOptions): Offcut[] {
  const { name, fibreDeg } = sheet;
  const taken = [
    ...plates.flatMap((plate) => takenBy(plate, options)),
    ...sheet.keepOuts.map((k) => grown([keepOutRing(k)], options)),
  ];
  const outline = withoutArcs(sheet.outline);
  const left = difference(
    [outline],
    taken.flatMap((t) => t.rings),
    FACET,
  );
  const core = difference(
    offsetRings([outline], -options.leastWidth / 2),
    taken.flatMap((t) => t.wide),
    FACET,
  );
  return pieces(intersect(roundThem(core, options), left, FACET))
    .map(slitOpen)
    .map((outline): Offcut => {
      const area = signedArea(outline);
      const clear = largestRectangle(outline);
      return { sheet: name, thickness: thicknessOf(sheet), fibreDeg, outline, area, clear };
    })
    .filter((o) => shortSide(o.clear) >= options.leastWidth / 2)
    .sort((a, b) => b.area - a.area);
}

/** What is no offcut, as polygons, and the same grown by half of the least width: there is no middle of a disc. */
interface Taken {
  readonly rings: readonly Contour[];
  readonly wide: readonly Contour[];
}

function grown(rings: readonly (readonly number[])[], { leastWidth }: OffcutOptions): Taken {
  const outers = rings.filter((r) => ringArea(r) > 0);
  const holes = rings.filter((r) => ringArea(r) < 0);
  const wide = outers.flatMap((outer) => dilated(outer, holes, leastWidth / 2));
  return { rings: rings.map(contourOf), wide };
}

/** By a plate, all copies, with what cutting takes; windows too narrow to leave anything are taken too. */
function takenBy({ outer, windows, places }: CutPlate, options: OffcutOptions): Taken[] {
  const cut = CUT * options.kerf + CLEAN + FACET;
  const open = (c: Contour): boolean => shortSide(bounds(c)) > options.leastWidth + 2 * cut;
  const covers = offsetRings([outer, ...windows.filter(open)], cut).map((ring) =>
    coverOf(ring, COARSE, FILLED),
  );
  const { rings, wide } = grown(covers, options);
  return places.map((place) => ({
    rings: rings.map((ring) => placeContour(ring, place)),
    wide: wide.map((part) => placeContour(part, place)),
  }));
}

function shortSide({ min, max }: Box): number {
  return Math.min(max.x - min.x, max.y - min.y);
}

function keepOutRing(keepOut: KeepOut): number[] {
  if (keepOut.kind === "disc") {
    const disc = circle(keepOut.at, keepOut.diameter / 2 + FACET, true);
    return coverOf({ segments: [disc] }, COARSE);
  }
  const { min, max } = keepOut.box;
  return [min.x, min.y, max.x, min.y, max.x, max.y, min.x, max.y];
}

/** A sheet's edge as chords inside it. */
function withoutArcs(outline: Contour): Contour {
  if (outline.segments.every((s) => s.kind === "line")) return outline;
  const inner = offsetRings([outline], -FACET);
  return inner.reduce((a, b) => (signedArea(b) > signedArea(a) ? b : a), polygon([]));
}

/**
 * What lies round the places where a disc of half the least width finds room: far enough round them to have a square
 * corner whole. (The opening of Serra, Image Analysis and Mathematical Morphology, 1982, would round it.)
 */
function roundThem(core: readonly Contour[], { leastWidth }: OffcutOptions): Contour[] {
  const radius = (Math.SQRT2 * leastWidth) / 2 + FACET;
  return pieces(core).flatMap((rings) => {
    // Fewer corners, inside the ring: what is outside it is covered.
    const [outer, ...holes] = rings.map((ring) =>
      turnedBack(coverOf(reversedContour(ring), COARSE, FILLED)),
    );
    return outer === undefined ? [] : dilated(outer, holes, radius);
  });
}

function turnedBack(ring: readonly number[]): number[] {
  const out: number[] = [];
  for (let i = ring.length - 2; i >= 0; i -= 2) out.push(ring[i] as number, ring[i + 1] as number);
  return out;
}

/** Outer rings, each with its holes. */
function pieces(rings: readonly Contour[]): Contour[][] {
  const nesting = ringsNested(rings);
  return rings.flatMap((outer, i) => {
    if (signedArea(outer) <= 0) return [];
    return [[outer, ...rings.filter((r, k) => nesting[k]?.parent === i && signedArea(r) < 0)]];
  });
}

/** Ends further apart than a drawing's repairs join, mm. */
const SLIT = 4 * GAP;

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
