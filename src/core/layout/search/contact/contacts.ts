/**
 * How deep two forms lie in each other, and the shortest way out: the measure of the whole search.
 *
 * Depth of form g at d from form f: how far g must move to touch f at most; 0 where they do not overlap. The
 * shortest way goes to the nearest point of the boundary of their no-fit region.
 *
 * Regions are worked out when first asked for, and kept in one flat pool; a pair that is another pair turned,
 * or the other way round, is taken from that one. Everything is in double arithmetic of + − × ÷ and √ alone,
 * which every engine rounds alike.
 * Cost: O(edges) for a place inside, about O(parts) for one outside.
 */
import { regionOf } from "./boundary.ts";
import { gridOf, listOfCell } from "./cells.ts";
import type { Ring } from "./convex.ts";
import { directionOf, extentOf, type Form, type Forms, type Kind, turnRing } from "./forms.ts";

export interface Contacts {
  readonly forms: Forms;
  /** Along a region's longer side, at most. */
  readonly cells: number;
  readonly tolerance: number;
  /** Start of pair f · count + g in the pool; −1 where not yet asked for. */
  readonly start: Int32Array;
  /** Shortest way out of the last place that was inside. */
  readonly way: Float64Array;
  /** Regions: parts, edges, start in `grids`; for each part its box, its planes; edges x, y, dx, dy, 1 ÷ length². */
  pool: Float64Array;
  used: number;
  /** Grids: x0, y0, size, columns, rows, start in `table`. */
  readonly grids: number[];
  /** Cells and their lists. */
  table: Int32Array;
  tableUsed: number;
  /** First pair of its sort, by kinds and relative turn. */
  /** Working out regions costs too: counted in looks at a place. */
  work: number;
  readonly models: Map<string, number>;
  /** Corners of the parts of those. */
  readonly corners: Map<number, readonly Ring[]>;
}

/** Smallest overlap that counts, against the size of the shapes: far above rounding, far below any cutter. */
const RELATIVE_TOLERANCE = 1e-9;

/** Cells along a region's longer side that a long search makes up for. */
const MOST_CELLS = 32;

export function contactsOf(forms: Forms, cells: number = MOST_CELLS): Contacts {
  const count = forms.list.length;
  let size = 0;
  for (const { reach } of forms.list)
    size = Math.max(size, reach.x1 - reach.x0, reach.y1 - reach.y0);
  return {
    forms,
    cells,
    tolerance: size * RELATIVE_TOLERANCE,
    start: new Int32Array(count * count).fill(-1),
    way: new Float64Array(2),
    pool: new Float64Array(1 << 14),
    used: 0,
    grids: [],
    table: new Int32Array(1 << 14),
    tableUsed: 0,
    work: 0,
    models: new Map(),
    corners: new Map(),
  };
}

/** Depth of form g at (dx, dy) from form f; sets `way` where it is above 0. */
export function depthAt(c: Contacts, pair: number, dx: number, dy: number): number {
  let at = c.start[pair] as number;
  if (at < 0) at = addPair(c, pair);
  const pool = c.pool;
  const parts = pool[at] as number;
  return parts === 1 ? depthInPart(c, at + 3, dx, dy) : depthInMany(c, at, dx, dy);
}

/** One convex part: the nearest edge is that of the lowest half plane. */
function depthInPart(c: Contacts, part: number, dx: number, dy: number): number {
  const pool = c.pool;
  const tolerance = c.tolerance;
  const end = part + 5 + 3 * (pool[part + 4] as number);
  let best = Number.POSITIVE_INFINITY;
  let nx = 0;
  let ny = 0;
  for (let k = part + 5; k < end; k += 3) {
    const s = (pool[k] as number) * dx + (pool[k + 1] as number) * dy - (pool[k + 2] as number);
    if (s < best) {
      if (s <= tolerance) return 0;
      best = s;
      nx = pool[k] as number;
      ny = pool[k + 1] as number;
    }
  }
  c.way[0] = -nx * best;
  c.way[1] = -ny * best;
  return best;
}

/** Many parts: the cell knows which edges can be nearest. */
function depthInMany(c: Contacts, at: number, dx: number, dy: number): number {
  const { grids, pool } = c;
  const grid = pool[at + 2] as number;
  const size = grids[grid + 2] as number;
  const column = Math.floor((dx - (grids[grid] as number)) / size);
  const row = Math.floor((dy - (grids[grid + 1] as number)) / size);
  const columns = grids[grid + 3] as number;
  if (column < 0 || row < 0 || column >= columns || row >= (grids[grid + 4] as number)) return 0;
  const cell = (grids[grid + 5] as number) + row * columns + column;
  let list = c.table[cell] as number;
  if (list === UNASKED) list = addList(c, at, cell);
  if (list < 0) return 0;
  const table = c.table;
  const parts = table[list] as number;
  const end = list + 2 + parts;
  let inside = parts === 0;
  for (let k = list + 2; k < end && !inside; k++) {
    inside = isInside(pool, at + (table[k] as number), c.tolerance, dx, dy);
  }
  return inside ? toBoundary(c, at, list, dx, dy) : 0;
}

function isInside(
  pool: Float64Array,
  part: number,
  tolerance: number,
  dx: number,
  dy: number,
): boolean {
  const end = part + 5 + 3 * (pool[part + 4] as number);
  for (let k = part + 5; k < end; k += 3) {
    const s = (pool[k] as number) * dx + (pool[k + 1] as number) * dy - (pool[k + 2] as number);
    if (s <= tolerance) return false;
  }
  return true;
}

/** Distance to the nearest of the edges in a cell's list. */
function toBoundary(c: Contacts, at: number, list: number, dx: number, dy: number): number {
  const { pool, table } = c;
  let best = Number.POSITIVE_INFINITY;
  let wx = 0;
  let wy = 0;
  const from = list + 2 + (table[list] as number);
  const end = from + (table[list + 1] as number);
  for (let i = from; i < end; i++) {
    const k = at + (table[i] as number);
    let ex = (pool[k] as number) - dx;
    let ey = (pool[k + 1] as number) - dy;
    const lx = pool[k + 2] as number;
    const ly = pool[k + 3] as number;
    const t = -(ex * lx + ey * ly) * (pool[k + 4] as number);
    if (t >= 1) {
      ex += lx;
      ey += ly;
    } else if (t > 0) {
      ex += t * lx;
      ey += t * ly;
    }
    const d = ex * ex + ey * ey;
    if (d < best) {
      best = d;
      wx = ex;
      wy = ey;
    }
  }
  c.way[0] = wx;
  c.way[1] = wy;
  const depth = Math.sqrt(best);
  return depth > c.tolerance ? depth : 0;
}

function addPair(c: Contacts, pair: number): number {
  const count = c.forms.list.length;
  const f = Math.floor(pair / count);
  const g = pair % count;
  const a = c.forms.list[f] as Form;
  const b = c.forms.list[g] as Form;
  const model = c.models.get(sortOf(c, a, b));
  if (model !== undefined) return addTurned(c, pair, model, turnFrom(c, model, a, b));
  const otherWay = c.models.get(sortOf(c, b, a));
  if (otherWay !== undefined) {
    return addTurned(c, pair, otherWay, turnFrom(c, otherWay, b, a) + 180);
  }
  c.models.set(sortOf(c, a, b), pair);
  return addWorkedOut(c, pair, a, b);
}

/** Parts times numbers of edges that take as long as one look at a place, about: measured. */
const PER_STEP = 16;

/** Pairs of one sort are alike but for a common turn. */
function sortOf(c: Contacts, a: Form, b: Form): string {
  const relative = (((b.turn.deg - a.turn.deg) % 360) + 360) % 360;
  const any = isRound(c, a) || isRound(c, b);
  const turn = any ? "any" : Math.round(relative * 1e6);
  return `${a.kind} ${b.kind} ${a.turn.flipped} ${b.turn.flipped} ${turn}`;
}

function isRound({ forms }: Contacts, { kind }: Form): boolean {
  return forms.kinds[kind]?.round === true;
}

/** How far a pair is turned from the first of its sort: by either of the two, but a round one tells nothing. */
function turnFrom(c: Contacts, model: number, a: Form, b: Form): number {
  const { list } = c.forms;
  const first = list[Math.floor(model / list.length)] as Form;
  const second = list[model % list.length] as Form;
  return isRound(c, a) ? b.turn.deg - second.turn.deg : a.turn.deg - first.turn.deg;
}

function addWorkedOut(c: Contacts, pair: number, a: Form, b: Form): number {
  const { kinds, parts } = c.forms;
  const [p, q] = [kinds[a.kind] as Kind, kinds[b.kind] as Kind];
  const level = Math.max(p.level, q.level);
  const turned = (form: Form): Ring[] =>
    (parts[form.kind]?.get(level) ?? []).map((p) => turnRing(p, form.turn));
  const region = regionOf(turned(a), turned(b), c.tolerance);
  c.corners.set(pair, region.rings);
  c.work += Math.ceil((region.parts.length * region.edges.length) / PER_STEP) + 1;
  const flat: number[] = [region.parts.length, region.edges.length / 4, 0];
  for (const [i, part] of region.parts.entries()) {
    const { x0, y0, x1, y1 } = extentOf(region.rings[i] as Ring);
    flat.push(x0, y0, x1, y1, part.length / 3, ...part);
  }
  const { edges } = region;
  for (let k = 0; k < edges.length; k += 4) {
    const x = edges[k] as number;
    const y = edges[k + 1] as number;
    const lx = (edges[k + 2] as number) - x;
    const ly = (edges[k + 3] as number) - y;
    const square = lx * lx + ly * ly;
    flat.push(x, y, lx, ly, square > 0 ? 1 / square : 0);
  }
  return append(c, pair, flat);
}

function addTurned(c: Contacts, pair: number, model: number, deg: number): number {
  const [cosine, sine] = directionOf(deg);
  const from = c.start[model] as number;
  const pool = c.pool;
  const parts = pool[from] as number;
  const edges = pool[from + 1] as number;
  const flat: number[] = [parts, edges, 0];
  const turn = (k: number): void => {
    const x = pool[k] as number;
    const y = pool[k + 1] as number;
    flat.push(cosine * x - sine * y, sine * x + cosine * y);
  };
  let k = from + 3;
  for (let i = 0; i < parts; i++) {
    const planes = pool[k + 4] as number;
    const corners = c.corners.get(model)?.[i] ?? [];
    const { x0, y0, x1, y1 } = extentOf(turnRing(corners, { deg, flipped: false }));
    flat.push(x0, y0, x1, y1, planes);
    k += 5;
    for (let j = 0; j < planes; j++, k += 3) {
      turn(k);
      flat.push(pool[k + 2] as number);
    }
  }
  for (let i = 0; i < edges; i++, k += 5) {
    turn(k);
    turn(k + 2);
    flat.push(pool[k + 4] as number);
  }
  return append(c, pair, flat);
}

function append(c: Contacts, pair: number, flat: readonly number[]): number {
  const at = c.used;
  if (at + flat.length > c.pool.length) {
    const larger = new Float64Array(2 * (at + flat.length));
    larger.set(c.pool.subarray(0, at));
    c.pool = larger;
  }
  c.pool.set(flat, at);
  c.used += flat.length;
  c.start[pair] = at;
  if ((flat[0] as number) > 1) addCells(c, at);
  return at;
}

const OUTSIDE = -1;
const UNASKED = -2;

function addCells(c: Contacts, at: number): void {
  const { x0, y0, size, columns, rows } = gridOf({ pool: c.pool, at }, c.cells);
  const base = c.tableUsed;
  makeRoom(c, columns * rows);
  c.table.fill(UNASKED, base, c.tableUsed);
  c.pool[at + 2] = c.grids.length;
  c.grids.push(x0, y0, size, columns, rows, base);
}

function makeRoom(c: Contacts, more: number): void {
  const need = c.tableUsed + more;
  if (need > c.table.length) {
    const larger = new Int32Array(2 * need);
    larger.set(c.table.subarray(0, c.tableUsed));
    c.table = larger;
  }
  c.tableUsed = need;
}

function addList(c: Contacts, at: number, cell: number): number {
  const grid = c.pool[at + 2] as number;
  const [x0, y0, size, columns, , base] = c.grids.slice(grid, grid + 6) as Six;
  const column = (cell - base) % columns;
  const row = Math.floor((cell - base) / columns);
  const x = x0 + (column + 0.5) * size;
  const y = y0 + (row + 0.5) * size;
  const list = listOfCell({ pool: c.pool, at }, x, y, size);
  const start = c.tableUsed;
  if (list !== undefined) {
    makeRoom(c, list.length);
    c.table.set(list, start);
  }
  c.table[cell] = list === undefined ? OUTSIDE : start;
  return c.table[cell] as number;
}

type Six = [number, number, number, number, number, number];
