/**
 * Pairs of boxes that overlap, by grids of doubling cell size.
 *
 * Each box lies in the grid whose cells are just larger than itself, so in four cells at most; it is compared with
 * what lies in the cells that it touches, in its own grid and in each coarser one. A pair is told in the one cell
 * that holds the lower left corner of the overlap.
 * Cost: O(n × grids + pairs). Looks and pairs are bounded, because a small file can draw everything over
 * everything; the answer says when a bound was met.
 */
import type { Box } from "../../../geometry/shape.ts";
import { power } from "../../../geometry/trig.ts";

/** A look compares four numbers. */
const LOOKS_MOST = 2_000_000;
const LOOKS_EACH = 400;
/** A pair is looked into: plates have a few for each segment, and some more where long edges stand aslant. */
const PAIRS_MOST = 150_000;
const PAIRS_EACH = 30;
/** Cells are no smaller than this, mm. */
const FINEST = 1 / 16;

/** Cells as chains: `first` has a cell's last entry, `next` the one before it; an entry is the box `item`. */
interface Grid {
  readonly size: number;
  readonly first: Map<number, number>;
  readonly next: number[];
  readonly item: number[];
}

interface Search {
  readonly boxes: readonly Box[];
  readonly margin: number;
  readonly pair: (i: number, j: number) => void;
  looksLeft: number;
  pairsLeft: number;
}

/** Calls `pair(i, j)`, i < j, for every two boxes within `margin`; false where there were too many to look at. */
export function overlappingPairs(
  boxes: readonly Box[],
  margin: number,
  pair: (i: number, j: number) => void,
): boolean {
  const search: Search = {
    boxes,
    margin,
    pair,
    looksLeft: LOOKS_MOST + LOOKS_EACH * boxes.length,
    pairsLeft: PAIRS_MOST + PAIRS_EACH * boxes.length,
  };
  const byLevel = new Map<number, number[]>();
  boxes.forEach((b, i) => {
    const level = levelOf(b, margin);
    const known = byLevel.get(level);
    if (known === undefined) byLevel.set(level, [i]);
    else known.push(i);
  });
  const grids: Grid[] = [];
  // Coarse before fine: then each box meets all that came before it.
  for (const [level, members] of [...byLevel].sort(([a], [b]) => b - a)) {
    const own: Grid = { size: FINEST * power(2, level), first: new Map(), next: [], item: [] };
    grids.push(own);
    for (const i of members) {
      for (const grid of grids) if (!meet(search, grid, i)) return false;
      enter(own, boxes[i] as Box, margin, i);
    }
  }
  return true;
}

function levelOf(b: Box, margin: number): number {
  let size = FINEST;
  let level = 0;
  for (; size < Math.max(b.max.x - b.min.x, b.max.y - b.min.y) + margin; level++) size *= 2;
  return level;
}

/** A number for a cell. Cells of different places may share one; that costs looks and nothing else. */
export function cellKey(x: number, y: number): number {
  return (Math.imul(x, 73856093) ^ Math.imul(y, 19349663)) | 0;
}

/** Boxes are grown by the margin to the upper right, on both sides of a comparison alike. */
function enter({ size, first, next, item }: Grid, b: Box, margin: number, i: number): void {
  const x1 = Math.floor((b.max.x + margin) / size);
  const y1 = Math.floor((b.max.y + margin) / size);
  for (let x = Math.floor(b.min.x / size); x <= x1; x++) {
    for (let y = Math.floor(b.min.y / size); y <= y1; y++) {
      const key = cellKey(x, y);
      next.push(first.get(key) ?? -1);
      first.set(key, item.length);
      item.push(i);
    }
  }
}

function meet(s: Search, grid: Grid, i: number): boolean {
  const { size } = grid;
  const b = s.boxes[i] as Box;
  const x1 = Math.floor((b.max.x + s.margin) / size);
  const y1 = Math.floor((b.max.y + s.margin) / size);
  for (let x = Math.floor(b.min.x / size); x <= x1; x++) {
    for (let y = Math.floor(b.min.y / size); y <= y1; y++) {
      let e = grid.first.get(cellKey(x, y)) ?? -1;
      for (; e >= 0; e = grid.next[e] as number) {
        if (--s.looksLeft < 0) return false;
        if (!meetIn(s, { size, x, y }, i, grid.item[e] as number)) return false;
      }
    }
  }
  return true;
}

interface Cell {
  readonly size: number;
  readonly x: number;
  readonly y: number;
}

function meetIn(s: Search, { size, x, y }: Cell, i: number, j: number): boolean {
  const a = s.boxes[i] as Box;
  const b = s.boxes[j] as Box;
  const left = Math.max(a.min.x, b.min.x);
  const low = Math.max(a.min.y, b.min.y);
  if (left > Math.min(a.max.x, b.max.x) + s.margin || low > Math.min(a.max.y, b.max.y) + s.margin)
    return true;
  if (Math.floor(left / size) !== x || Math.floor(low / size) !== y) return true;
  if (--s.pairsLeft < 0) return false;
  s.pair(Math.min(i, j), Math.max(i, j));
  return true;
}
