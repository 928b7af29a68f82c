/**
 * The wanted sheet as walls: every contour of every plate, cut up so that each piece is the border of
 * solid material between two depths.
 *
 * Words: a *ring* is one contour of one plate, solid on the left of its travel; a *wall* is a piece of
 * a ring. Through contours border solid at every depth, except where a recess lies over them; a recess
 * has walls down to its floor and is solid below it.
 */
import { bounds, oriented } from "../geometry/contour.ts";
import { meetings } from "../geometry/intersect.ts";
import { pointAt } from "../geometry/segment.ts";
import type { Box, Contour, Origin, Point, Segment } from "../geometry/shape.ts";
import { OVERCUT } from "../geometry/tolerance.ts";
import type { TargetFeature, TargetPlate, TargetSheet, TargetTab } from "./proof.ts";
import { boxAround, type Curve, curveOf, distanceToPoint, partOf } from "./removal/curve.ts";
import { type Grid, gridOf, visit } from "./removal/grid.ts";
import { insideRing } from "./removal/inside.ts";
import { type Measured, measure } from "./removal/ring.ts";

export interface Wall {
  readonly curve: Curve;
  readonly ring: Ring;
  readonly origin: Origin | undefined;
  /** It borders solid for tips in low ≤ z < high. */
  readonly low: number;
  readonly high: number;
}

export interface Ring extends Measured {
  readonly plate: TargetPlate;
  /** Absent for the outline. */
  readonly feature: TargetFeature | undefined;
  readonly contour: Contour;
  readonly curves: readonly Curve[];
  readonly box: Box;
  readonly tabs: readonly TargetTab[];
}

/** A plate by its rings. */
export interface Part {
  readonly plate: TargetPlate;
  readonly outline: Ring;
  readonly inner: readonly Ring[];
}

export interface Target {
  readonly sheet: TargetSheet;
  readonly parts: readonly Part[];
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
  const parts = sheet.plates.map((plate) => partFor(plate, sheet.tabs));
  const rings = parts.flatMap((part) => [part.outline, ...part.inner]);
  const walls = parts.flatMap((part) =>
    [part.outline, ...part.inner].flatMap((r) => wallsOf(part, r)),
  );
  const grid = gridOf(
    walls.map((wall) => boxAround(wall.curve, 0)),
    CELL,
  );
  const floors = new Set<number>();
  for (const ring of rings) {
    if (ring.feature !== undefined && isRecess(ring.feature)) floors.add(floorOf(ring.feature));
  }
  return { sheet, parts, rings, walls, grid, floors: [...floors].sort((a, b) => b - a) };
}

function partFor(plate: TargetPlate, tabs: readonly TargetTab[]): Part {
  const own = tabs.filter((t) => t.plate === plate.plate && t.copy === plate.copy);
  const ring = (contour: Contour, feature: TargetFeature | undefined): Ring => {
    const solidLeft = oriented(contour, feature === undefined);
    const curves = solidLeft.segments.map(curveOf);
    return {
      plate,
      feature,
      contour: solidLeft,
      curves,
      ...measure(curves),
      box: bounds(solidLeft),
      tabs: own.filter((t) => t.feature === feature?.id),
    };
  };
  return {
    plate,
    outline: ring(plate.outer, undefined),
    inner: plate.features.map((f) => ring(f.contour, f)),
  };
}

/** Is the point inside the ring's contour, solid or not? */
export function within(ring: Ring, x: number, y: number): boolean {
  const { min, max } = ring.box;
  if (x < min.x || x > max.x || y < min.y || y > max.y) return false;
  return insideRing(ring.curves, x, y);
}

/** Cuts a ring where recesses begin and end, and says at which depths each piece is a border. */
function wallsOf(part: Part, ring: Ring): Wall[] {
  const { feature } = ring;
  const recess = feature !== undefined && isRecess(feature);
  const others = part.inner.filter(
    (r) => r !== ring && r.feature !== undefined && (recess || isRecess(r.feature)),
  );
  const cutters = (recess ? [part.outline, ...others] : others).filter((r) =>
    meet(r.box, ring.box),
  );
  const walls: Wall[] = [];
  ring.contour.segments.forEach((segment, i) => {
    const curve = ring.curves[i] as Curve;
    for (const [t0, t1] of pieces(segment, cutters)) {
      const range = depthsOf(part, ring, pointAt(segment, (t0 + t1) / 2), others);
      if (range === undefined) continue;
      walls.push({ curve: partOf(curve, t0, t1), ring, origin: segment.origin, ...range });
    }
  });
  return walls;
}

function meet(a: Box, b: Box): boolean {
  return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
}

function pieces(segment: Segment, cutters: readonly Ring[]): [number, number][] {
  const cuts = [0, 1];
  for (const { contour } of cutters) {
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
  part: Part,
  ring: Ring,
  { x, y }: Point,
  others: readonly Ring[],
): { low: number; high: number } | undefined {
  const { feature } = ring;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  if (feature !== undefined && isRecess(feature)) {
    if (!within(part.outline, x, y)) return undefined;
    low = floorOf(feature);
  }
  for (const other of others) {
    if (other.feature === undefined || !within(other, x, y)) continue;
    if (!isRecess(other.feature)) return undefined;
    high = Math.min(high, floorOf(other.feature));
  }
  return low < high ? { low, high } : undefined;
}

/** Is there material of the plate at this point and depth, in the finished part? */
export function isSolid(part: Part, x: number, y: number, z: number): boolean {
  if (!within(part.outline, x, y)) return false;
  for (const ring of part.inner) {
    const f = ring.feature as TargetFeature;
    if (isRecess(f) && z < floorOf(f)) continue;
    if (within(ring, x, y)) return false;
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

/** The wall nearest to a point, within `limit`. */
export function nearestWall(target: Target, x: number, y: number, limit: number): Wall | undefined {
  let best: Wall | undefined;
  let least = limit;
  visit(target.grid, [x - limit, y - limit, x + limit, y + limit], (i) => {
    const wall = target.walls[i] as Wall;
    const d = distanceToPoint(wall.curve, x, y);
    if (d >= least) return;
    least = d;
    best = wall;
  });
  return best;
}
