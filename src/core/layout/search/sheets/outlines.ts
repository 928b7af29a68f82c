/**
 * Plates, keep-outs and the sheet's edge as polygons for the search, each a little larger than it is.
 *
 * A plate is grown by half its gap; the polygon then stays outside the grown shape: it is grown further by
 * what chords, thinning and rounded places may take away. So whatever the search keeps apart is apart. Windows
 * that a smaller plate might fit into stay open, all others are filled.
 */
import { flatten, polygon, rectangle, signedArea } from "../../../geometry/contour.ts";
import { offsetRings } from "../../../geometry/offset.ts";
import type { Box, Contour, Point } from "../../../geometry/shape.ts";
import { cos, sin, TAU } from "../../../geometry/trig.ts";
import type { KeepOut } from "../../layout.ts";
import type { Item } from "../../riders.ts";
import type { Room } from "../../room.ts";
import { tidyRing } from "../contact/convex.ts";
import { extentOf, type Outline } from "../contact/forms.ts";

/** Chords stray from their arcs by this, and thinning from the chords by as much again, mm. */
const COARSE = 0.08;
/** Places are rounded to 0.001 mm; two of them by half of it each, along both axes. */
export const ROUNDING = 0.001;

/** The plate that the others of an item ride in. */
export function plateOf(item: Item): { outer: Contour; windows: Contour[] } {
  const first = item.members[0];
  if (first === undefined) return { outer: { segments: [] }, windows: [] };
  const ridden = new Set(item.members.map((m) => m.inside?.feature));
  const { outer, features } = first.order.plate;
  const open = features.filter((f) => f.kind !== "recess" && !ridden.has(f.id));
  return { outer, windows: open.map((f) => f.contour) };
}

/** The shape as it is: for the walls, which ask for no polygon of few corners. */
export function bareOutline(item: Item): Outline {
  const grown = offsetRings([plateOf(item).outer], FINE);
  return { outer: ringOf(outermost(grown), FINE), holes: [] };
}

const FINE = 0.002;

/** Grown by `distance`; windows stay where at least `least` is free across them. */
export function grownOutline(item: Item, distance: number, least: number): Outline {
  const { outer, windows } = plateOf(item);
  const grown = offsetRings([outer, ...windows], distance + 2 * COARSE + ROUNDING);
  const holes = grown.filter((c) => signedArea(c) < 0).map((c) => thinned(ringOf(c, COARSE)));
  return {
    outer: tidyRing(thinned(ringOf(outermost(grown), COARSE)), true, TIDY),
    holes: holes.filter((h) => narrowest(h) >= least).map((h) => tidyRing(h, false, TIDY)),
  };
}

const TIDY = 1e-6;

function narrowest(ring: readonly number[]): number {
  if (ring.length < 6) return 0;
  const { x0, y0, x1, y1 } = extentOf(ring);
  return Math.min(x1 - x0, y1 - y0);
}

function outermost(rings: readonly Contour[]): Contour {
  return rings.reduce((a, b) => (signedArea(b) > signedArea(a) ? b : a), rings[0] as Contour);
}

function ringOf(contour: Contour, tolerance: number): number[] {
  return flatten(contour, tolerance).flatMap((p) => [p.x, p.y]);
}

/** Fewer corners, no further than COARSE from the ring (Douglas and Peucker, Cartographica 10(2), 1973). */
function thinned(ring: readonly number[]): number[] {
  const n = ring.length / 2;
  if (n < 5) return [...ring];
  const far = furthest(ring, 0, n, [0, 0]);
  const kept = new Set([0, far.index]);
  const split = (from: number, to: number): void => {
    if (to - from < 2) return;
    const found = furthest(ring, from, to, [from, to % n]);
    if (found.distance <= COARSE) return;
    kept.add(found.index);
    split(from, found.index);
    split(found.index, to);
  };
  split(0, far.index);
  split(far.index, n);
  return [...kept]
    .sort((a, b) => a - b)
    .flatMap((i) => [ring[2 * i] as number, ring[2 * i + 1] as number]);
}

function furthest(
  ring: readonly number[],
  from: number,
  to: number,
  [a, b]: readonly [number, number],
): { index: number; distance: number } {
  const best = { index: from, distance: -1 };
  for (let i = from + 1; i < to; i++) {
    const d = fromChord(ring, i, a, b);
    if (d > best.distance) {
      best.index = i;
      best.distance = d;
    }
  }
  return best;
}

function fromChord(ring: readonly number[], i: number, a: number, b: number): number {
  const dx = (ring[2 * b] as number) - (ring[2 * a] as number);
  const dy = (ring[2 * b + 1] as number) - (ring[2 * a + 1] as number);
  const ex = (ring[2 * i] as number) - (ring[2 * a] as number);
  const ey = (ring[2 * i + 1] as number) - (ring[2 * a + 1] as number);
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, (ex * dx + ey * dy) / square));
  const fx = ex - t * dx;
  const fy = ey - t * dy;
  return Math.sqrt(fx * fx + fy * fy);
}

/** A keep-out grown by the distance that plates keep from it. */
export function keepOutOutline(keepOut: KeepOut, distance: number): Outline {
  const d = distance + ROUNDING;
  if (keepOut.kind === "disc") {
    return { outer: roundedOut(keepOut.at, keepOut.diameter / 2 + d), holes: [] };
  }
  const { min, max } = keepOut.box;
  const grown = offsetRings([rectangle(min.x, min.y, max.x, max.y)], d + COARSE);
  return { outer: ringOf(outermost(grown), COARSE), holes: [] };
}

const ROUND_CORNERS = 16;

/** A polygon round a circle. */
function roundedOut(centre: Point, radius: number): number[] {
  const out = radius / cos(TAU / 2 / ROUND_CORNERS);
  return Array.from({ length: ROUND_CORNERS }, (_, i) => {
    const a = (TAU * i) / ROUND_CORNERS;
    return [centre.x + out * cos(a), centre.y + out * sin(a)];
  }).flat();
}

/** A sheet's inside, less its margin: its box, and what of the box is not sheet where it is no rectangle. */
export interface Inside {
  readonly box: Box;
  readonly frame: Outline | undefined;
}

/** How far the frame reaches outward: a plate that lies across it is led back to the inside. */
const FRAME = 40;

export function insideOf(room: Room): Inside | undefined {
  const { clear } = room;
  if (room.rectangular) {
    const box = {
      min: { x: clear.min.x + ROUNDING, y: clear.min.y + ROUNDING },
      max: { x: clear.max.x - ROUNDING, y: clear.max.y - ROUNDING },
    };
    return box.max.x > box.min.x && box.max.y > box.min.y ? { box, frame: undefined } : undefined;
  }
  const inset = offsetRings([room.sheet.outline], -(room.margin + 2 * COARSE + ROUNDING));
  const holes = inset
    .filter((c) => signedArea(c) > 0)
    .map((c) => tidyRing(thinned(ringOf(c, COARSE)), false, TIDY));
  if (holes.length === 0) return undefined;
  const { x0, y0, x1, y1 } = extentOf(holes.flat());
  const outer = polygon([
    { x: x0 - FRAME, y: y0 - FRAME },
    { x: x1 + FRAME, y: y0 - FRAME },
    { x: x1 + FRAME, y: y1 + FRAME },
    { x: x0 - FRAME, y: y1 + FRAME },
  ]);
  return {
    box: { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } },
    frame: { outer: ringOf(outer, COARSE), holes },
  };
}
