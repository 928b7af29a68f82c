/**
 * A grid over things with boxes: which of them lie near a place. Each thing is entered in every cell that
 * its box touches, so a query looks at a handful of cells and may meet a thing more than once.
 *
 * Cost: O(1) a cell; things are numbers, 4 bytes for each cell that they touch, in one array.
 */
export type Box = readonly [x0: number, y0: number, x1: number, y1: number];

export interface Grid {
  readonly cell: number;
  readonly x: number;
  readonly y: number;
  readonly columns: number;
  readonly rows: number;
  /** Cell i has the things list[first[i]] … list[first[i + 1] − 1]. */
  readonly first: Int32Array;
  readonly list: Int32Array;
  /** For `visit`: the round in which a thing was met last. */
  readonly seen: Int32Array;
  round: number;
}

/** A lost move far off the sheet may not make the grid as large as the way there. */
const MOST_CELLS = 1e6;

/** Thing i has box i. */
export function gridOf(boxes: readonly Box[], cell: number): Grid {
  let [x0, y0, x1, y1] = [0, 0, 1, 1];
  for (const box of boxes) {
    x0 = Math.min(x0, box[0]);
    y0 = Math.min(y0, box[1]);
    x1 = Math.max(x1, box[2]);
    y1 = Math.max(y1, box[3]);
  }
  const wide = Math.max(cell, Math.sqrt(((x1 - x0) * (y1 - y0)) / MOST_CELLS));
  const columns = Math.max(1, Math.ceil((x1 - x0) / wide));
  const rows = Math.max(1, Math.ceil((y1 - y0) / wide));
  const first = new Int32Array(columns * rows + 1);
  const grid = { cell: wide, x: x0, y: y0, columns, rows, first };
  for (const box of boxes) {
    eachCell(grid, box, (at) => {
      first[at + 1] = (first[at + 1] as number) + 1;
    });
  }
  for (let i = 1; i < first.length; i++) first[i] = (first[i] as number) + (first[i - 1] as number);
  const list = new Int32Array(first[columns * rows] as number);
  const next = first.slice();
  boxes.forEach((box, thing) => {
    eachCell(grid, box, (at) => {
      const place = next[at] as number;
      list[place] = thing;
      next[at] = place + 1;
    });
  });
  return { ...grid, list, seen: new Int32Array(boxes.length), round: 0 };
}

type Lattice = Pick<Grid, "cell" | "x" | "y" | "columns" | "rows">;

/** A place outside the grid counts as its border. */
function index(v: number, cell: number, count: number): number {
  return Math.max(0, Math.min(Math.floor(v / cell), count - 1));
}

function eachCell(grid: Lattice, box: Box, take: (at: number) => void): void {
  const i0 = index(box[0] - grid.x, grid.cell, grid.columns);
  const i1 = index(box[2] - grid.x, grid.cell, grid.columns);
  const j1 = index(box[3] - grid.y, grid.cell, grid.rows);
  for (let j = index(box[1] - grid.y, grid.cell, grid.rows); j <= j1; j++) {
    for (let i = i0; i <= i1; i++) take(j * grid.columns + i);
  }
}

/** Every thing whose cells meet the box, once. */
export function visit(grid: Grid, box: Box, take: (thing: number) => void): void {
  grid.round++;
  const { seen, round, first, list } = grid;
  eachCell(grid, box, (at) => {
    const end = first[at + 1] as number;
    for (let k = first[at] as number; k < end; k++) {
      const thing = list[k] as number;
      if (seen[thing] === round) continue;
      seen[thing] = round;
      take(thing);
    }
  });
}
