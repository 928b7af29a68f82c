/**
 * One level: what has been taken away at one depth, once all strokes have run.
 *
 * A stroke takes part with the stretch of it whose tip is at or below the level, so ramps and helices
 * count from their crossing point on. Exact in Z; in X and Y see coverage and rows.
 */
import { boxAround, type Curve, distanceToPoint, nearestT, xAt, yAt } from "./curve.ts";
import { type Box, type Grid, gridOf, visit } from "./grid.ts";
import { below, type Stroke } from "./stroke.ts";

export interface Level {
  readonly z: number;
  readonly strokes: readonly Stroke[];
  readonly grid: Grid;
  readonly widest: number;
}

const CELL = 3;

/** The levels of a sheet, each made once when it is asked for. */
export interface Levels {
  readonly all: readonly Stroke[];
  readonly made: Map<number, Level>;
}

export function newLevels(all: readonly Stroke[]): Levels {
  return { all, made: new Map() };
}

/** What was swept at a depth. */
export function levelOf(levels: Levels, z: number): Level {
  const known = levels.made.get(z);
  if (known !== undefined) return known;
  const parts: Stroke[] = [];
  for (const s of levels.all) {
    const part = below(s, z);
    if (part !== undefined) parts.push(part);
  }
  const level = gridded(z, distinct(parts));
  levels.made.set(z, level);
  return level;
}

/** All strokes that cut at all and may come into one of the boxes, with their heights: passes on one way are all there. */
export function everyStroke(all: readonly Stroke[], boxes: readonly Box[]): Level {
  const places = gridOf(boxes, CELL);
  const comes = new Map<Curve, boolean>();
  return gridded(
    0,
    all.filter((s) => {
      if (s.z0 >= 0 && s.z1 >= 0) return false;
      const known = comes.get(s.curve);
      if (known !== undefined) return known;
      const box = boxAround(s.curve, s.radius);
      let met = false;
      visit(places, box, (i) => {
        met ||= meets(box, boxes[i] as Box);
      });
      comes.set(s.curve, met);
      return met;
    }),
  );
}

function meets(a: Box, b: Box): boolean {
  return a[0] <= b[2] && a[2] >= b[0] && a[1] <= b[3] && a[3] >= b[1];
}

function gridded(z: number, strokes: readonly Stroke[]): Level {
  const grid = gridOf(
    strokes.map((s) => boxAround(s.curve, s.radius)),
    CELL,
  );
  const widest = strokes.reduce((most, s) => Math.max(most, s.radius), 0);
  return { z, strokes, grid, widest };
}

/** One of each: pass after pass runs the same way, and one sweep of it says all at a level. */
export function distinct(strokes: readonly Stroke[]): readonly Stroke[] {
  const seen = new Set<Curve>();
  return strokes.filter(({ curve }) => {
    if (seen.has(curve)) return false;
    seen.add(curve);
    return true;
  });
}

/** Strokes whose sweep may come within `extra` of a curve. */
export function near(level: Level, c: Curve, extra: number): Stroke[] {
  return inside(level, boxAround(c, extra));
}

/** Strokes whose sweep may come into a box. */
export function inside(level: Level, box: Box): Stroke[] {
  const out: Stroke[] = [];
  visit(level.grid, box, (i) => {
    out.push(level.strokes[i] as Stroke);
  });
  return out;
}

export interface Beyond {
  /** mm from the point to what was swept; 0 or less inside. */
  distance: number;
  /** The nearest place that the sweep reaches; the point itself inside. */
  x: number;
  y: number;
}

/** How far a point is from what was swept at this level, no more than `limit`. */
export function beyondSweep(level: Level, x: number, y: number, limit: number): Beyond {
  const found: Beyond = { distance: limit, x, y };
  let best: Stroke | undefined;
  visit(level.grid, [x - limit, y - limit, x + limit, y + limit], (i) => {
    const s = level.strokes[i] as Stroke;
    const d = distanceToPoint(s.curve, x, y) - s.radius;
    if (d >= found.distance) return;
    found.distance = d;
    best = s;
  });
  if (best === undefined || found.distance <= 0) return found;
  const { curve, radius } = best as Stroke;
  const t = nearestT(curve, x, y);
  const cx = xAt(curve, t);
  const cy = yAt(curve, t);
  const k = radius / (found.distance + radius);
  found.x = cx + (x - cx) * k;
  found.y = cy + (y - cy) * k;
  return found;
}
