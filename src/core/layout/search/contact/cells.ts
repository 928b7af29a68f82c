/**
 * A grid over a no-fit region, so that a question about a place looks at a few edges and not at all of them.
 *
 * Each cell knows whether it is wholly outside, wholly inside or neither, which parts may hold a place in it,
 * and which edges may be the nearest to a place in it. Bounds are from the cell's middle and half its
 * diagonal, since a distance changes no faster than the place; so answers are those of looking at everything.
 * Cost: O(edges + planes) a cell, when it is first asked for.
 */

/** Region in the flat form of contacts.ts, at its start in the pool. */
export interface FlatRegion {
  readonly pool: Float64Array;
  readonly at: number;
}

export interface Grid {
  readonly x0: number;
  readonly y0: number;
  readonly size: number;
  readonly columns: number;
  readonly rows: number;
}

interface Bounds {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export function gridOf(r: FlatRegion): Grid {
  const edges = r.pool[r.at + 1] as number;
  const box = boxOf(r, partOffsets(r));
  const long = Math.max(box.x1 - box.x0, box.y1 - box.y0);
  const size = long / Math.min(32, Math.max(8, Math.ceil(3 * Math.sqrt(edges))));
  const columns = Math.ceil((box.x1 - box.x0) / size + 1e-6);
  const rows = Math.ceil((box.y1 - box.y0) / size + 1e-6);
  return { x0: box.x0, y0: box.y0, size, columns, rows };
}

/**
 * The list of the cell round (x, y): parts (0: inside without asking), edges, then the offsets from `at` of
 * those parts and edges. None where the cell is wholly outside.
 */
export function listOfCell(
  r: FlatRegion,
  x: number,
  y: number,
  size: number,
): number[] | undefined {
  const cell = { x, y, half: size * Math.SQRT1_2 * 1.0001 };
  return cellList(r, cell, partOffsets(r), {
    first: edgeStart(r),
    count: r.pool[r.at + 1] as number,
  });
}

function partOffsets({ pool, at }: FlatRegion): number[] {
  const out: number[] = [];
  let k = 3;
  for (let i = 0; i < (pool[at] as number); i++) {
    out.push(k);
    k += 5 + 3 * (pool[at + k + 4] as number);
  }
  return out;
}

function edgeStart(r: FlatRegion): number {
  let k = 3;
  for (let i = 0; i < (r.pool[r.at] as number); i++) {
    k += 5 + 3 * (r.pool[r.at + k + 4] as number);
  }
  return k;
}

function boxOf({ pool, at }: FlatRegion, parts: readonly number[]): Bounds {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (const k of parts) {
    x0 = Math.min(x0, pool[at + k] as number);
    y0 = Math.min(y0, pool[at + k + 1] as number);
    x1 = Math.max(x1, pool[at + k + 2] as number);
    y1 = Math.max(y1, pool[at + k + 3] as number);
  }
  return { x0, y0, x1, y1 };
}

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly half: number;
}

/** Room for what is known of a region's edges while a cell's list is made; grows as it must. */
let distances = new Float64Array(256);

function cellList(
  r: FlatRegion,
  cell: Cell,
  parts: readonly number[],
  edges: { readonly first: number; readonly count: number },
): number[] | undefined {
  const maybe: number[] = [];
  let inside = false;
  for (const k of parts) {
    const lowest = lowestPlane(r, k, cell);
    if (lowest > -cell.half) maybe.push(k);
    if (lowest > 0) inside = true;
  }
  if (maybe.length === 0) return undefined;
  const nearest = measured(r, cell, edges);
  if (!inside && nearest > cell.half) return undefined;
  const near: number[] = [];
  for (let i = 0; i < edges.count; i++) {
    if ((distances[i] as number) <= nearest + 2 * cell.half) near.push(edges.first + 5 * i);
  }
  const sure = inside && nearest > cell.half;
  return sure ? [0, near.length, ...near] : [maybe.length, near.length, ...maybe, ...near];
}

/** Sets `distances` from the cell's middle to every edge; the least of them. */
function measured(
  r: FlatRegion,
  cell: Cell,
  { first, count }: { readonly first: number; readonly count: number },
): number {
  if (count > distances.length) distances = new Float64Array(2 * count);
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const d = edgeDistance(r, first + 5 * i, cell);
    distances[i] = d;
    if (d < nearest) nearest = d;
  }
  return nearest;
}

function lowestPlane({ pool, at }: FlatRegion, part: number, { x, y }: Cell): number {
  const end = at + part + 5 + 3 * (pool[at + part + 4] as number);
  let lowest = Number.POSITIVE_INFINITY;
  for (let k = at + part + 5; k < end; k += 3) {
    const s = (pool[k] as number) * x + (pool[k + 1] as number) * y - (pool[k + 2] as number);
    if (s < lowest) lowest = s;
  }
  return lowest;
}

function edgeDistance({ pool, at }: FlatRegion, edge: number, { x, y }: Cell): number {
  const k = at + edge;
  const ex = (pool[k] as number) - x;
  const ey = (pool[k + 1] as number) - y;
  const lx = pool[k + 2] as number;
  const ly = pool[k + 3] as number;
  const t = Math.min(1, Math.max(0, -(ex * lx + ey * ly) * (pool[k + 4] as number)));
  const dx = ex + t * lx;
  const dy = ey + t * ly;
  return Math.sqrt(dx * dx + dy * dy);
}
