/**
 * How much each move really cuts, as metres of plate edge: the volume that it clears ÷ (the cutter's width × the
 * sheet's thickness), which is the length of a full-width slot of that volume.
 *
 * A chart of the sheet in cells of a quarter of the cutter remembers how deep each place was already cut. A level straight
 * way clears what it sweeps, row by row; any other is walked in steps of a cell, and what the cutter's disc finds above its
 * tip is cleared. So six passes round a plate are one edge, a finishing pass counts as the sliver that it takes,
 * overlapping passes of a clearing count their share, and a helix in a small hole counts the hole.
 * Accuracy: 3 % on plates (cells against true widths). Cost: linear in way ÷ cell, some four cells a step, fifteen where
 * it is walked.
 */
import { cos, sin } from "../../geometry/trig.ts";
import type { TraceMove } from "../../program/read/trace.ts";

export interface Chart {
  readonly cell: number;
  readonly radius: number;
  /** Z of the sheet's top and underside in program coordinates. */
  readonly top: number;
  readonly bottom: number;
  /** Squares of cells with the lowest Z at each, made when first touched. */
  readonly tiles: Map<number, Float64Array>;
  /** The one that was asked for last: rows of a disc are mostly in one tile. */
  last: { readonly key: number; readonly tile: Float64Array };
}

const CELLS_ACROSS = 4;

/** A tile's side in cells, as a power of two. */
const TILE_BITS = 6;
const TILE = 1 << TILE_BITS;

/** Columns of tiles; programs are metres at most. */
const COLUMNS = 1 << 20;

export function newChart(diameter: number, top: number, thickness: number): Chart {
  return {
    cell: diameter / CELLS_ACROSS,
    radius: diameter / 2,
    top,
    bottom: top - thickness,
    tiles: new Map(),
    last: { key: Number.NaN, tile: new Float64Array(0) },
  };
}

/** What of a move at feed counts here. */
export type Way = Pick<TraceMove, "x0" | "y0" | "z0" | "x1" | "y1" | "z1" | "arc">;

/**
 * Ways that a later one goes over again, nowhere higher: what they clear, that one clears with the rest. So the sum over
 * all is the same without them, but for where its steps fall, and of the passes round a plate few are left.
 */
export function goneOver(ways: readonly Way[]): Uint8Array {
  const again = new Uint8Array(ways.length);
  // By a number that equal ways share; others may share it too.
  const last = new Map<number, number>();
  for (let i = ways.length - 1; i >= 0; i--) {
    const way = ways[i] as Way;
    // In tenths of a micrometre, and whole: small whole numbers are looked up soonest.
    const key = ((way.x0 + 3.7 * way.y0 + 11.3 * way.x1 + 31.9 * way.y1) * 1e4) & 0x3fffffff;
    const later = ways[last.get(key) ?? -1];
    if (later !== undefined && isOver(way, later)) again[i] = 1;
    else last.set(key, i);
  }
  return again;
}

function isOver(way: Way, later: Way): boolean {
  const { arc } = way;
  return (
    way.x0 === later.x0 &&
    way.y0 === later.y0 &&
    way.x1 === later.x1 &&
    way.y1 === later.y1 &&
    arc?.sweep === later.arc?.sweep &&
    arc?.cx === later.arc?.cx &&
    arc?.cy === later.arc?.cy &&
    later.z0 <= way.z0 &&
    later.z1 <= way.z1
  );
}

/** mm² of edge cut by a feed move. */
export function engage(chart: Chart, move: Way, length: number): number {
  const { cell, top, bottom, radius } = chart;
  if (Math.min(move.z0, move.z1) >= top) return 0;
  if (move.arc === undefined && move.z0 === move.z1) {
    return sweep(chart, move, Math.max(bottom, move.z1)) / (2 * radius);
  }
  const n = Math.max(1, Math.ceil(length / cell));
  const step = stepOf(move, n);
  let { x, y } = step;
  let volume = 0;
  for (let k = 1; k <= n; k++) {
    const along = x * step.cos - y * step.sin + step.dx;
    y = x * step.sin + y * step.cos + step.dy;
    x = along;
    const z = Math.max(bottom, move.z0 + (move.z1 - move.z0) * (k / n));
    if (z < top) volume += clear(chart, x + step.cx, y + step.cy, z);
  }
  return volume / (2 * radius);
}

/** From one place of a move to the next: a turn about a centre, or a shift. */
interface Step {
  readonly x: number;
  readonly y: number;
  readonly cx: number;
  readonly cy: number;
  readonly cos: number;
  readonly sin: number;
  readonly dx: number;
  readonly dy: number;
}

function stepOf({ x0, y0, x1, y1, arc }: Way, n: number): Step {
  if (arc === undefined) {
    const shift = { dx: (x1 - x0) / n, dy: (y1 - y0) / n };
    return { x: x0, y: y0, cx: 0, cy: 0, cos: 1, sin: 0, ...shift };
  }
  const { cx, cy, sweep } = arc;
  const turn = { cos: cos(sweep / n), sin: sin(sweep / n) };
  return { x: x0 - cx, y: y0 - cy, cx, cy, ...turn, dx: 0, dy: 0 };
}

/** mm³ that a level straight way finds above the tip. What it sweeps is convex: each row of it is one stretch. */
function sweep(chart: Chart, { x0, y0, x1, y1 }: Way, z: number): number {
  const { cell, radius } = chart;
  const dx = x1 - x0;
  const dy = y1 - y0;
  const length = Math.sqrt(dx * dx + dy * dy);
  // From the way to its side towards greater X; the other side lies opposite.
  const asideX = length > 0 ? (Math.abs(dy) / length) * radius : 0;
  const asideY = length > 0 ? ((-dx * Math.sign(dy)) / length) * radius : 0;
  let depth = 0;
  const last = Math.floor((Math.max(y0, y1) + radius) / cell - 0.5);
  for (let row = Math.ceil((Math.min(y0, y1) - radius) / cell - 0.5); row <= last; row++) {
    const y = (row + 0.5) * cell;
    const right = alongside(y, asideY);
    const left = alongside(y, -asideY);
    const to = right === undefined ? reach(y, 1) : x0 + right * dx + asideX;
    const from = left === undefined ? reach(y, -1) : x0 + left * dx - asideX;
    depth += lower(chart, Math.ceil(from / cell - 0.5), Math.floor(to / cell - 0.5), row, z);
  }
  return depth * cell * cell;

  /** How far along the way its side meets the row, 0 … 1; undefined where an end's disc does instead. */
  function alongside(y: number, aside: number): number | undefined {
    const t = (y - y0 - aside) / dy;
    return t >= 0 && t <= 1 ? t : undefined;
  }

  /** The end of the row's stretch in the ends' discs. */
  function reach(y: number, sign: number): number {
    const a = Math.sqrt(Math.max(0, radius * radius - (y - y0) * (y - y0)));
    const b = Math.sqrt(Math.max(0, radius * radius - (y - y1) * (y - y1)));
    if (Math.abs(y - y0) > radius) return x1 + sign * b;
    if (Math.abs(y - y1) > radius) return x0 + sign * a;
    return sign * Math.max(sign * (x0 + sign * a), sign * (x1 + sign * b));
  }
}

/** mm³ that the disc at a place finds above its tip. */
function clear(chart: Chart, x: number, y: number, z: number): number {
  const { cell, radius } = chart;
  let depth = 0;
  const last = Math.floor((y + radius) / cell - 0.5);
  for (let row = Math.ceil((y - radius) / cell - 0.5); row <= last; row++) {
    const dy = (row + 0.5) * cell - y;
    const half = Math.sqrt(Math.max(0, radius * radius - dy * dy));
    const begin = Math.ceil((x - half) / cell - 0.5);
    const end = Math.floor((x + half) / cell - 0.5);
    depth += lower(chart, begin, end, row, z);
  }
  return depth * cell * cell;
}

/** How far the cells of a row sink to `z`, all together. */
function lower(chart: Chart, begin: number, end: number, row: number, z: number): number {
  let depth = 0;
  let column = begin;
  while (column <= end) {
    const tile = tileAt(chart, column, row);
    const stop = Math.min(end, column | (TILE - 1));
    const base = (row & (TILE - 1)) * TILE;
    for (; column <= stop; column++) {
      const at = base + (column & (TILE - 1));
      const before = tile[at] as number;
      if (before <= z) continue;
      tile[at] = z;
      depth += before - z;
    }
  }
  return depth;
}

function tileAt(chart: Chart, column: number, row: number): Float64Array {
  const key = (column >> TILE_BITS) * COLUMNS + (row >> TILE_BITS);
  if (key === chart.last.key) return chart.last.tile;
  let tile = chart.tiles.get(key);
  if (tile === undefined) {
    tile = new Float64Array(TILE * TILE).fill(chart.top);
    chart.tiles.set(key, tile);
  }
  chart.last = { key, tile };
  return tile;
}
