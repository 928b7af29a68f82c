/**
 * Windows where a plate has nothing to do: the free area, divided by webs, its corners rounded.
 *
 * Free is what lies a web or more from the outline and from every cutout, and outside every keep-out (motor
 * pads, screw heads, the seats of standoffs). It is divided by a pattern of webs; pieces too small for the
 * corner radius or for the least area stay solid.
 *
 * Promise: a disc of the corner's radius gets everywhere in a window; no window nears outline, cutout or another window by less than the web, nor enters a keep-out.
 * Patterns: panels: webs along and across. triangles: webs slanting both ways. slots: webs along one way only.
 */
import {
  boundsOfAll,
  boxesTouch,
  isCircle,
  oriented,
  reversedContour,
  signedArea,
} from "../../geometry/contour.ts";
import { meetings } from "../../geometry/intersect.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { boxOf, distance } from "../../geometry/segment.ts";
import type { Box, Contour, Point } from "../../geometry/shape.ts";
import { type Boxed, boxed, curveDistance } from "../../layout/clearance.ts";
import type { LightenSpec } from "../file/schema.ts";
import type { AirframePlate, Cutout } from "../model.ts";
import { less } from "../shape/boolean.ts";
import { disc, strip } from "../shape/build.ts";

export interface Lightening {
  readonly pattern: LightenSpec["pattern"];
  readonly web: number;
  readonly corner: number;
  readonly pitch: number;
  readonly least: number;
}

export function lightened(
  plate: AirframePlate,
  how: Lightening,
  keepOuts: readonly Contour[],
): AirframePlate {
  const windows = windowsOf(plate, how, keepOuts);
  const cutouts = windows.map(
    (contour, i): Cutout => ({
      name: `lightening ${i + 1}`,
      contour: reversedContour(contour),
      parameter: "lighten",
    }),
  );
  const area = windows.reduce((sum, w) => sum + signedArea(w), 0);
  return { ...plate, cutouts: [...plate.cutouts, ...cutouts], lightened: area };
}

/** Counter-clockwise. */
function windowsOf(plate: AirframePlate, how: Lightening, keepOuts: readonly Contour[]): Contour[] {
  const solid = [...plate.cutouts.flatMap((c) => grown(c.contour, how.web)), ...keepOuts];
  let free: Contour[] = offsetRings([plate.outer], -how.web);
  const box = boundsOfAll(free);
  if (free.length === 0) return [];
  for (const shape of [...solid, ...webs(how, box)]) {
    const rest = less(free, [shape]);
    // Boundaries that all but coincide: better no windows than wrong ones.
    if (rest === undefined) return [];
    free = rest;
    if (free.length === 0) return [];
  }
  const parts = parted(free, how);
  const rounded = offsetRings(offsetRings(parts, -how.corner), how.corner);
  const outers = pieces(parts, how.corner).filter((r) => signedArea(r) >= how.least);
  // A window round an island would cut the island loose.
  const whole = outers.filter((o) => !rounded.some((r) => signedArea(r) < 0 && inside(r, o)));
  const clear = whole.filter((w) => isClear(w, plate, how.web));
  return spaced(clear, how.web).sort(byPlace);
}

/** What a disc of the corner's radius reaches, each piece for itself; islands are filled. Counter-clockwise. */
function pieces(free: readonly Contour[], corner: number): Contour[] {
  return offsetRings(free, -corner)
    .filter((r) => signedArea(r) > 0)
    .flatMap((r) => offsetRings([r], corner));
}

/**
 * Two pieces that overlap leave a neck between them that is narrower than the corners are round: no cutter of that
 * radius passes it. A disc over its middle parts them: of this radius its chord beside the neck is a web.
 */
function parted(free: readonly Contour[], { corner, web }: Lightening): readonly Contour[] {
  const all = pieces(free, corner);
  const necks = all.flatMap((a, i) => all.slice(i + 1).flatMap((b) => necksOf(a, b)));
  const radius = Math.sqrt(corner * corner + (web * web) / 4);
  return necks.reduce<readonly Contour[]>((f, at) => less(f, [disc(at, radius)]) ?? f, free);
}

/** Middles between the points where two outlines cross. */
function necksOf(a: Contour, b: Contour): Point[] {
  const points = a.segments.flatMap((p) =>
    b.segments.flatMap((q) => (boxesTouch(boxOf(p), boxOf(q)) ? meetings(p, q) : [])),
  );
  return points.flatMap(({ point: p }) => {
    const others = points.map((q) => q.point).filter((q) => distance(p, q) > 1e-6);
    const [q] = others.sort((u, v) => distance(p, u) - distance(p, v));
    return q === undefined ? [p] : [{ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }];
  });
}

/** Most cutouts are round, and need no offset for that. */
function grown(cutout: Contour, by: number): Contour[] {
  const arc = cutout.segments[0];
  if (isCircle(cutout) && arc?.kind === "arc") return [disc(arc.centre, arc.radius + by)];
  return offsetRings([oriented(cutout, true)], by);
}

/** Where the corner of a keep-out parts two windows by less than the web, the larger one stays. */
function spaced(windows: readonly Contour[], web: number): Contour[] {
  const kept: Boxed[] = [];
  for (const w of [...windows].sort((p, q) => signedArea(q) - signedArea(p))) {
    const own = boxed(w);
    if (kept.every((k) => curveDistance(own, k, web) >= web - SLACK)) kept.push(own);
  }
  return kept.map((k) => k.contour);
}

function inside(hole: Contour, outer: Contour): boolean {
  const a = boundsOfAll([hole]);
  const b = boundsOfAll([outer]);
  return a.min.x > b.min.x && a.max.x < b.max.x && a.min.y > b.min.y && a.max.y < b.max.y;
}

function byPlace(a: Contour, b: Contour): number {
  const p = boundsOfAll([a]).min;
  const q = boundsOfAll([b]).min;
  return Math.abs(p.y - q.y) > 0.01 ? p.y - q.y : p.x - q.x;
}

/** Offsets keep 2 µm: so much less than the web is still the web. */
const SLACK = 0.005;

/** The promise, looked at once more: whatever went before, a window that breaks it is left out. */
function isClear(window: Contour, plate: AirframePlate, web: number): boolean {
  const own = boxed(window);
  return [plate.outer, ...plate.cutouts.map((c) => c.contour)].every(
    (c) => curveDistance(own, boxed(c), web) >= web - SLACK,
  );
}

/** The pattern's webs across a box, symmetric about the middle line. */
function webs({ pattern, web, pitch }: Lightening, box: Box): Contour[] {
  const half = web / 2;
  const { min, max } = box;
  const middle = { x: mid(min.x, max.x), y: mid(min.y, max.y) };
  const wide = max.x - min.x;
  const high = max.y - min.y;
  const reach = wide + high;
  const along = (x: number): Contour => strip({ x, y: min.y - 1 }, { x, y: max.y + 1 }, half, half);
  const across = (y: number): Contour =>
    strip({ x: min.x - 1, y }, { x: max.x + 1, y }, half, half);
  if (pattern === "slots") {
    return high >= wide
      ? steps(middle.x, wide, pitch / 2).map(along)
      : steps(middle.y, high, pitch / 2).map(across);
  }
  if (pattern === "panels") {
    return [
      ...steps(middle.x, wide, pitch).map(along),
      ...steps(middle.y, high, pitch).map(across),
    ];
  }
  const slanting = (y: number, way: number): Contour =>
    strip(
      { x: middle.x - reach, y: y - way * reach },
      { x: middle.x + reach, y: y + way * reach },
      half,
      half,
    );
  // Slanting webs at 45° repeat along Y every pitch × √2.
  const ys = steps(middle.y, 2 * reach, pitch * Math.SQRT2);
  return ys.flatMap((y) => [slanting(y, 1), slanting(y, -1)]);
}

function mid(a: number, b: number): number {
  // On the middle line of the airframe where a plate is symmetric to a hair.
  const m = (a + b) / 2;
  return Math.abs(m) < 1e-3 ? 0 : m;
}

/** Places every `pitch` from the middle outwards, within `size` of it. */
function steps(middle: number, size: number, pitch: number): number[] {
  const n = Math.floor(size / 2 / pitch);
  return Array.from({ length: 2 * n + 1 }, (_, i) => middle + (i - n) * pitch);
}
