/**
 * The wanted sheet as walls: every contour of every plate, cut up so that each piece is the border of
 * solid material between two depths.
 *
 * Words: a *ring* is one contour of one plate, solid on the left of its travel; a *wall* is a piece of
 * a ring. Through contours border solid at every depth, except where a recess lies over them; a recess
 * has walls down to its floor and is solid below it.
 */
import { contains, oriented } from "../geometry/contour.ts";
import { meetings } from "../geometry/intersect.ts";
import { pointAt } from "../geometry/segment.ts";
import type { Contour, Origin, Point, Segment } from "../geometry/shape.ts";
import { OVERCUT } from "../geometry/tolerance.ts";
import type { TargetFeature, TargetPlate, TargetSheet, TargetTab } from "./proof.ts";
import { boxAround, type Curve, curveOf, distanceToPoint, partOf } from "./removal/curve.ts";
import { enter, type Grid, newGrid, visit } from "./removal/grid.ts";

export interface Wall {
  readonly curve: Curve;
  readonly ring: Ring;
  readonly origin: Origin | undefined;
  /** It borders solid for tips in low ≤ z < high. */
  readonly low: number;
  readonly high: number;
}

export interface Ring {
  readonly plate: TargetPlate;
  /** Absent for the outline. */
  readonly feature: TargetFeature | undefined;
  readonly contour: Contour;
  readonly curves: readonly Curve[];
  readonly tabs: readonly TargetTab[];
}

export interface Target {
  readonly sheet: TargetSheet;
  readonly rings: readonly Ring[];
  readonly walls: readonly Wall[];
  readonly grid: Grid;
  /** Depths below which a recess turns solid, negative, from the top down. */
  readonly floors: readonly number[];
}

const CELL = 4;

export const floorOf = (f: TargetFeature): number => -(f.depth ?? 0) - OVERCUT;
export const isRecess = (f: TargetFeature): boolean => f.kind === "recess";

export function targetOf(sheet: TargetSheet): Target {
  const rings = sheet.plates.flatMap((plate) => ringsOf(plate, sheet.tabs));
  const walls = rings.flatMap((ring) => wallsOf(ring));
  const grid = newGrid(boxOfRings(rings), CELL, walls.length);
  walls.forEach((wall, i) => {
    enter(grid, i, boxAround(wall.curve, 0));
  });
  const floors = new Set<number>();
  for (const ring of rings) {
    if (ring.feature !== undefined && isRecess(ring.feature)) floors.add(floorOf(ring.feature));
  }
  return { sheet, rings, walls, grid, floors: [...floors].sort((a, b) => b - a) };
}

function ringsOf(plate: TargetPlate, tabs: readonly TargetTab[]): Ring[] {
  const own = tabs.filter((t) => t.plate === plate.plate && t.copy === plate.copy);
  const ring = (contour: Contour, feature: TargetFeature | undefined): Ring => {
    const solidLeft = oriented(contour, feature === undefined);
    return {
      plate,
      feature,
      contour: solidLeft,
      curves: solidLeft.segments.map(curveOf),
      tabs: own.filter((t) => t.feature === feature?.id),
    };
  };
  return [ring(plate.outer, undefined), ...plate.features.map((f) => ring(f.contour, f))];
}

/** Cuts a ring where recesses begin and end, and says at which depths each piece is a border. */
function wallsOf(ring: Ring): Wall[] {
  const { plate, feature } = ring;
  const recess = feature !== undefined && isRecess(feature);
  const others = plate.features.filter((f) => f !== feature && (recess || isRecess(f)));
  const walls: Wall[] = [];
  ring.contour.segments.forEach((segment, i) => {
    const curve = ring.curves[i] as Curve;
    const cutters = recess
      ? [plate.outer, ...others.map((f) => f.contour)]
      : others.map((f) => f.contour);
    for (const [t0, t1] of pieces(segment, cutters)) {
      const range = depthsOf(ring, pointAt(segment, (t0 + t1) / 2), others);
      if (range === undefined) continue;
      walls.push({ curve: partOf(curve, t0, t1), ring, origin: segment.origin, ...range });
    }
  });
  return walls;
}

function pieces(segment: Segment, cutters: readonly Contour[]): [number, number][] {
  const cuts = [0, 1];
  for (const contour of cutters) {
    for (const other of contour.segments) {
      for (const m of meetings(segment, other)) if (m.ta > 0 && m.ta < 1) cuts.push(m.ta);
    }
  }
  cuts.sort((a, b) => a - b);
  const out: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const t0 = cuts[i - 1] as number;
    const t1 = cuts[i] as number;
    if (t1 - t0 > 1e-9) out.push([t0, t1]);
  }
  return out;
}

function depthsOf(
  ring: Ring,
  middle: Point,
  others: readonly TargetFeature[],
): { low: number; high: number } | undefined {
  const { plate, feature } = ring;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  if (feature !== undefined && isRecess(feature)) {
    if (!contains(plate.outer, middle)) return undefined;
    low = floorOf(feature);
  }
  for (const f of others) {
    if (!contains(f.contour, middle)) continue;
    if (!isRecess(f)) return undefined;
    high = Math.min(high, floorOf(f));
  }
  return low < high ? { low, high } : undefined;
}

function boxOfRings(rings: readonly Ring[]): readonly [number, number, number, number] {
  let [x0, y0, x1, y1] = [0, 0, 1, 1];
  for (const ring of rings) {
    for (const c of ring.curves) {
      const box = boxAround(c, CELL);
      x0 = Math.min(x0, box[0]);
      y0 = Math.min(y0, box[1]);
      x1 = Math.max(x1, box[2]);
      y1 = Math.max(y1, box[3]);
    }
  }
  return [x0, y0, x1, y1];
}

/** Is there material of the plate at this point and depth, in the finished part? */
export function isSolid(plate: TargetPlate, p: Point, z: number): boolean {
  if (!contains(plate.outer, p)) return false;
  for (const f of plate.features) {
    if (isRecess(f) && z < floorOf(f)) continue;
    if (contains(f.contour, p)) return false;
  }
  return true;
}

/** Distance from a point to the walls that border solid at `z`, no more than `limit`. */
export function wallDistance(
  target: Target,
  x: number,
  y: number,
  z: number,
  limit: number,
): number {
  let least = limit;
  visit(target.grid, [x - limit, y - limit, x + limit, y + limit], (i) => {
    const wall = target.walls[i] as Wall;
    if (z < wall.low || z >= wall.high) return;
    const d = distanceToPoint(wall.curve, x, y);
    if (d < least) least = d;
  });
  return least;
}
