/**
 * Distance, nearest segment and ray crossings over many segments: a uniform grid, exact to lines and
 * arcs.
 *
 * Promise: answers are those of asking every segment in turn. Cost: O(n) to build; a query looks at
 * the cells round the point only, some 1–5 µs on a plate.
 */
import { meetings, parameterOf } from "./intersect.ts";
import { boxOf, distance, lengthOf, line, nearestOn, pointAt } from "./segment.ts";
import type { Box, Contour, Point, Segment } from "./shape.ts";

export interface NearestHit {
  /** Counted over all contours, in order. */
  readonly index: number;
  readonly segment: Segment;
  /** Parameter on the segment. */
  readonly t: number;
  readonly point: Point;
  readonly distance: number;
}

export interface RayHit {
  /** Along the ray from its start, mm. */
  readonly along: number;
  readonly point: Point;
  readonly index: number;
  readonly segment: Segment;
}

export interface SegmentIndex {
  readonly segments: readonly Segment[];
  /** Distance to the nearest segment, mm; infinite where there is none, or none within `limit`. */
  distance(p: Point, limit?: number): number;
  nearest(p: Point, limit?: number): NearestHit | undefined;
  /** Crossings with the stretch from–to, sorted from its start; a touch at a shared vertex counts once for each segment. */
  hits(from: Point, to: Point): RayHit[];
  /** True where the stretch has a crossing. */
  crosses(from: Point, to: Point): boolean;
  /** Every segment that comes within `margin` of the box, and maybe others whose box does; by index, ascending. */
  near(box: Box, margin?: number): number[];
}

/** Grid cells: `starts[c] … starts[c+1]` in `items` are the segments that pass cell c. */
interface Grid {
  readonly x0: number;
  readonly y0: number;
  readonly size: number;
  readonly columns: number;
  readonly rows: number;
  readonly starts: Int32Array;
  readonly items: Int32Array;
}

export function segmentIndex(contours: readonly Contour[]): SegmentIndex {
  return indexOf(contours.flatMap((c) => c.segments));
}

export function indexOf(segments: readonly Segment[]): SegmentIndex {
  const boxes = segments.map(boxOf);
  const grid = gridOf(segments, boxes);
  const stamps = new Int32Array(segments.length);
  let stamp = 0;

  const nearest = (p: Point, limit = Number.POSITIVE_INFINITY): NearestHit | undefined => {
    stamp++;
    let best = limit;
    let hit: NearestHit | undefined;
    const look = (index: number): void => {
      if (stamps[index] === stamp) return;
      stamps[index] = stamp;
      if (boxDistance(boxes[index] as Box, p) > best) return;
      const segment = segments[index] as Segment;
      const found = nearestOn(segment, p);
      if (found.distance < best || (found.distance === best && hit === undefined)) {
        best = found.distance;
        hit = { index, segment, ...found };
      }
    };
    lookAround(grid, p, look, () => best);
    return hit;
  };

  const near = (box: Box, margin = 0): number[] => {
    stamp++;
    const found: number[] = [];
    eachCell(grid, box, margin, (index) => {
      if (stamps[index] === stamp) return;
      stamps[index] = stamp;
      if (overlap(boxes[index] as Box, box, margin)) found.push(index);
    });
    return found.sort((a, b) => a - b);
  };

  return {
    segments,
    nearest,
    near,
    distance: (p, limit) => nearest(p, limit)?.distance ?? Number.POSITIVE_INFINITY,
    hits: (from, to) => rayHits(segments, near, from, to),
    crosses: (from, to) => {
      const stretch = line(from, to);
      return near(boxOf(stretch), TOUCHING).some(
        (index) => meetings(stretch, segments[index] as Segment, TOUCHING).length > 0,
      );
    },
  };
}

/** A crossing is rounded by no more, mm. */
const TOUCHING = 1e-9;
/** mm; a few cells of a plate's grid. */
const RAY_PIECE = 8;

function rayHits(
  segments: readonly Segment[],
  near: (box: Box, margin?: number) => number[],
  from: Point,
  to: Point,
): RayHit[] {
  const ray = line(from, to);
  const length = distance(from, to);
  const seen = new Set<number>();
  const hits: RayHit[] = [];
  // Piece by piece along the ray: the box of a long slanting ray would hold half the plate.
  const steps = Math.max(1, Math.min(64, Math.ceil(length / RAY_PIECE)));
  for (let k = 0; k < steps; k++) {
    const piece = line(pointAt(ray, k / steps), pointAt(ray, (k + 1) / steps));
    for (const index of near(boxOf(piece), TOUCHING)) {
      if (seen.has(index)) continue;
      seen.add(index);
      const segment = segments[index] as Segment;
      for (const m of meetings(ray, segment, TOUCHING)) {
        hits.push({ along: parameterOf(ray, m.point) * length, point: m.point, index, segment });
      }
    }
  }
  return hits.sort((a, b) => a.along - b.along || a.index - b.index);
}

/** From a point to the nearest of a box; 0 inside. */
export function boxDistance(b: Box, p: Point): number {
  const dx = Math.max(b.min.x - p.x, 0, p.x - b.max.x);
  const dy = Math.max(b.min.y - p.y, 0, p.y - b.max.y);
  return dx === 0 ? dy : dy === 0 ? dx : Math.sqrt(dx * dx + dy * dy);
}

function overlap(a: Box, b: Box, margin: number): boolean {
  return (
    a.min.x <= b.max.x + margin &&
    b.min.x <= a.max.x + margin &&
    a.min.y <= b.max.y + margin &&
    b.min.y <= a.max.y + margin
  );
}

/** About two cells a segment, square, never more than 400 in a row. */
function gridOf(segments: readonly Segment[], boxes: readonly Box[]): Grid {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (const b of boxes) {
    x0 = Math.min(x0, b.min.x);
    y0 = Math.min(y0, b.min.y);
    x1 = Math.max(x1, b.max.x);
    y1 = Math.max(y1, b.max.y);
  }
  if (segments.length === 0) x0 = y0 = x1 = y1 = 0;
  const width = Math.max(x1 - x0, 1e-6);
  const height = Math.max(y1 - y0, 1e-6);
  const size = Math.max(
    Math.sqrt((width * height) / (2 * segments.length + 1)),
    Math.max(width, height) / 400,
  );
  if (segments.length <= FEW)
    return oneCell({ x0, y0, size: 2 * Math.max(width, height) }, segments);
  const columns = Math.floor(width / size) + 1;
  const rows = Math.floor(height / size) + 1;
  const at = { x0, y0, size, columns, rows };

  const pairs: number[] = [];
  const counts = new Int32Array(columns * rows + 1);
  segments.forEach((s, index) => {
    eachCellOf(at, s, (cell) => {
      pairs.push(cell, index);
      counts[cell + 1] = (counts[cell + 1] as number) + 1;
    });
  });
  for (let c = 0; c < columns * rows; c++) {
    counts[c + 1] = (counts[c + 1] as number) + (counts[c] as number);
  }
  const fill = counts.slice();
  const items = new Int32Array(pairs.length / 2);
  for (let k = 0; k < pairs.length; k += 2) {
    const cell = pairs[k] as number;
    items[fill[cell] as number] = pairs[k + 1] as number;
    fill[cell] = (fill[cell] as number) + 1;
  }
  return { ...at, starts: counts, items };
}

/** So few are asked in turn sooner than sorted into cells. */
const FEW = 16;

function oneCell(at: Pick<Grid, "x0" | "y0" | "size">, segments: readonly Segment[]): Grid {
  const starts = Int32Array.of(0, segments.length);
  return { ...at, columns: 1, rows: 1, starts, items: Int32Array.from(segments.keys()) };
}

type Place = Omit<Grid, "starts" | "items">;

function column(g: Place, x: number): number {
  return Math.min(g.columns - 1, Math.max(0, Math.floor((x - g.x0) / g.size)));
}

function row(g: Place, y: number): number {
  return Math.min(g.rows - 1, Math.max(0, Math.floor((y - g.y0) / g.size)));
}

/** The cells that a segment may pass: the boxes of pieces about a cell long. A cell may come twice. */
function eachCellOf(g: Place, s: Segment, visit: (cell: number) => void): void {
  const turns = s.kind === "arc" ? Math.abs(s.sweep) * 2 : 0;
  const n = Math.max(1, Math.ceil(Math.max(lengthOf(s) / g.size, turns)));
  let a = s.from;
  let last = -1;
  for (let k = 1; k <= n; k++) {
    const b = pointAt(s, k / n);
    // The bow of a piece of an arc beyond its chord: r(1 − cos(step/2)) < r step²/8.
    const bow = s.kind === "arc" ? (s.radius * (s.sweep / n) ** 2) / 8 : 0;
    const c0 = column(g, Math.min(a.x, b.x) - bow);
    const c1 = column(g, Math.max(a.x, b.x) + bow);
    const r0 = row(g, Math.min(a.y, b.y) - bow);
    const r1 = row(g, Math.max(a.y, b.y) + bow);
    for (let r = r0; r <= r1; r++) {
      for (let c = c0; c <= c1; c++) {
        const cell = r * g.columns + c;
        if (cell !== last) visit(cell);
        last = cell;
      }
    }
    a = b;
  }
}

function eachCell(g: Grid, box: Box, margin: number, visit: (index: number) => void): void {
  const c0 = column(g, box.min.x - margin);
  const c1 = column(g, box.max.x + margin);
  const r0 = row(g, box.min.y - margin);
  const r1 = row(g, box.max.y + margin);
  for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) visitCell(g, c, r, visit);
}

function visitCell(g: Grid, c: number, r: number, visit: (index: number) => void): void {
  const cell = r * g.columns + c;
  const end = g.starts[cell + 1] as number;
  for (let k = g.starts[cell] as number; k < end; k++) visit(g.items[k] as number);
}

/** Rings of cells outward from the point's own, until no nearer segment can lie beyond. */
function lookAround(g: Grid, p: Point, visit: (index: number) => void, best: () => number): void {
  const c = column(g, p.x);
  const r = row(g, p.y);
  // From outside the grid every ring is further by the way to the grid's edge, which is left out: safe.
  const toEdge = Math.min(
    p.x - (g.x0 + c * g.size),
    g.x0 + (c + 1) * g.size - p.x,
    p.y - (g.y0 + r * g.size),
    g.y0 + (r + 1) * g.size - p.y,
  );
  const most = Math.max(c, g.columns - 1 - c, r, g.rows - 1 - r);
  for (let k = 0; k <= most; k++) {
    if (k > 0 && best() < toEdge + (k - 1) * g.size) return;
    ring(g, c, r, k, visit);
  }
}

function ring(g: Grid, c: number, r: number, k: number, visit: (index: number) => void): void {
  const c0 = Math.max(0, c - k);
  const c1 = Math.min(g.columns - 1, c + k);
  for (let y = Math.max(0, r - k); y <= Math.min(g.rows - 1, r + k); y++) {
    if (y === r - k || y === r + k) {
      for (let x = c0; x <= c1; x++) visitCell(g, x, y, visit);
    } else {
      if (c - k >= 0) visitCell(g, c - k, y, visit);
      if (k > 0 && c + k < g.columns) visitCell(g, c + k, y, visit);
    }
  }
}
