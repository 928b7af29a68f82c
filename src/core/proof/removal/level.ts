/**
 * One level: what has been taken away at one depth, once all strokes have run.
 *
 * A stroke takes part with the stretch of it whose tip is at or below the level, so ramps and helices
 * count from their crossing point on. Exact in Z; in X and Y see coverage and rows.
 */
import { boxAround, type Curve, distanceToPoint, nearestT, xAt, yAt } from "./curve.ts";
import { enter, type Grid, newGrid, visit } from "./grid.ts";
import { below, type Stroke } from "./stroke.ts";

export interface Level {
  readonly z: number;
  readonly strokes: readonly Stroke[];
  readonly grid: Grid;
  readonly widest: number;
}

const CELL = 3;

export function levelAt(z: number, all: readonly Stroke[]): Level {
  const strokes: Stroke[] = [];
  let widest = 0;
  let [x0, y0, x1, y1] = [0, 0, 1, 1];
  const boxes: (readonly [number, number, number, number])[] = [];
  for (const s of all) {
    const part = below(s, z);
    if (part === undefined) continue;
    const box = boxAround(part.curve, part.radius);
    strokes.push(part);
    boxes.push(box);
    widest = Math.max(widest, part.radius);
    x0 = Math.min(x0, box[0]);
    y0 = Math.min(y0, box[1]);
    x1 = Math.max(x1, box[2]);
    y1 = Math.max(y1, box[3]);
  }
  // A lost move far off the sheet may not make the grid as large as the way there.
  const cell = Math.max(CELL, Math.sqrt(((x1 - x0) * (y1 - y0)) / 1e6));
  const grid = newGrid([x0, y0, x1, y1], cell, strokes.length);
  boxes.forEach((box, i) => {
    enter(grid, i, box);
  });
  return { z, strokes, grid, widest };
}

/** Strokes whose sweep may come within `extra` of a curve. */
export function near(level: Level, c: Curve, extra: number): Stroke[] {
  const out: Stroke[] = [];
  visit(level.grid, boxAround(c, extra), (i) => {
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
