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

const LEAST = 8;
/** A region of this many edges gets as many cells as there may be. */
const MANY_EDGES = 110;

/** `most` cells along the longer side at most, fewer where there are few edges. */
export function gridOf({ pool, at }: FlatRegion, most: number): Grid {
  const edges = pool[at + 1] as number;
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  let k = at + 3;
  for (let i = 0; i < (pool[at] as number); i++) {
    x0 = Math.min(x0, pool[k] as number);
    y0 = Math.min(y0, pool[k + 1] as number);
    x1 = Math.max(x1, pool[k + 2] as number);
    y1 = Math.max(y1, pool[k + 3] as number);
    k += 5 + 3 * (pool[k + 4] as number);
  }
  const cells = Math.min(most, Math.max(LEAST, Math.ceil(most * Math.sqrt(edges / MANY_EDGES))));
  const size = Math.max(x1 - x0, y1 - y0) / cells;
  const columns = Math.ceil((x1 - x0) / size + 1e-6);
  const rows = Math.ceil((y1 - y0) / size + 1e-6);
  return { x0, y0, size, columns, rows };
}

/** Room for what is known of a region's edges while a cell's list is made; grows as it must. */
let distances = new Float64Array(256);

/**
 * The list of the cell round (x, y): parts (0: inside without asking), edges, then the offsets from `at` of
 * those parts and edges. None where the cell is wholly outside.
 */
export function listOfCell(
  { pool, at }: FlatRegion,
  x: number,
  y: number,
  size: number,
): number[] | undefined {
  const half = size * Math.SQRT1_2 * 1.0001;
  const list = [0, 0];
  let inside = false;
  let k = at + 3;
  for (let i = 0; i < (pool[at] as number); i++) {
    const next = k + 5 + 3 * (pool[k + 4] as number);
    if (
      x > (pool[k] as number) - half &&
      x < (pool[k + 2] as number) + half &&
      y > (pool[k + 1] as number) - half &&
      y < (pool[k + 3] as number) + half
    ) {
      const lowest = lowestPlane(pool, k + 5, next, x, y);
      if (lowest > -half) list.push(k - at);
      if (lowest > 0) inside = true;
    }
    k = next;
  }
  const parts = list.length - 2;
  if (parts === 0) return undefined;
  const edges = pool[at + 1] as number;
  const nearest = measured(pool, k, edges, x, y);
  if (!inside && nearest > half) return undefined;
  const sure = inside && nearest > half;
  if (sure) list.length = 2;
  else list[0] = parts;
  const near = list.length;
  for (let i = 0; i < edges; i++) {
    if ((distances[i] as number) <= nearest + 2 * half) list.push(k - at + 5 * i);
  }
  list[1] = list.length - near;
  return list;
}

function lowestPlane(pool: Float64Array, from: number, to: number, x: number, y: number): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let k = from; k < to; k += 3) {
    const s = (pool[k] as number) * x + (pool[k + 1] as number) * y - (pool[k + 2] as number);
    if (s < lowest) lowest = s;
  }
  return lowest;
}

/** Sets `distances` from a place to every edge; the least of them. */
function measured(pool: Float64Array, first: number, count: number, x: number, y: number): number {
  if (count > distances.length) distances = new Float64Array(2 * count);
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0, k = first; i < count; i++, k += 5) {
    const ex = (pool[k] as number) - x;
    const ey = (pool[k + 1] as number) - y;
    const lx = pool[k + 2] as number;
    const ly = pool[k + 3] as number;
    const t = Math.min(1, Math.max(0, -(ex * lx + ey * ly) * (pool[k + 4] as number)));
    const dx = ex + t * lx;
    const dy = ey + t * ly;
    const d = Math.sqrt(dx * dx + dy * dy);
    distances[i] = d;
    if (d < nearest) nearest = d;
  }
  return nearest;
}
