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
  const lattice: Lattice = { cell: wide, x: x0, y: y0, columns, rows };
  for (const box of boxes) {
    const { i0, i1, j0, j1 } = cellsOf(lattice, box);
    for (let j = j0; j <= j1; j++) {
      for (let at = j * columns + i0 + 1; at <= j * columns + i1 + 1; at++) {
        first[at] = (first[at] as number) + 1;
      }
    }
  }
  for (let i = 1; i < first.length; i++) first[i] = (first[i] as number) + (first[i - 1] as number);
  const list = new Int32Array(first[columns * rows] as number);
  const next = first.slice();
  for (let thing = 0; thing < boxes.length; thing++) {
    const { i0, i1, j0, j1 } = cellsOf(lattice, boxes[thing] as Box);
    for (let j = j0; j <= j1; j++) {
      for (let at = j * columns + i0; at <= j * columns + i1; at++) {
        const place = next[at] as number;
        list[place] = thing;
        next[at] = place + 1;
      }
    }
  }
  return { ...lattice, first, list, seen: new Int32Array(boxes.length), round: 0 };
}

type Lattice = Pick<Grid, "cell" | "x" | "y" | "columns" | "rows">;

/** A place outside the grid counts as its border. */
function index(v: number, cell: number, count: number): number {
  return Math.max(0, Math.min(Math.floor(v / cell), count - 1));
}

interface Cells {
  readonly i0: number;
  readonly i1: number;
  readonly j0: number;
  readonly j1: number;
}

function cellsOf({ cell, x, y, columns, rows }: Lattice, box: Box): Cells {
  return {
    i0: index(box[0] - x, cell, columns),
    i1: index(box[2] - x, cell, columns),
    j0: index(box[1] - y, cell, rows),
    j1: index(box[3] - y, cell, rows),
  };
}

/** Every thing whose cells meet the box, once. */
export function visit(grid: Grid, box: Box, take: (thing: number) => void): void {
  grid.round++;
  const { seen, round, first, list, columns } = grid;
  const { i0, i1, j0, j1 } = cellsOf(grid, box);
  for (let j = j0; j <= j1; j++) {
    // The cells of a row lie in a row in the list, too.
    const end = first[j * columns + i1 + 1] as number;
    for (let k = first[j * columns + i0] as number; k < end; k++) {
      const thing = list[k] as number;
      if (seen[thing] === round) continue;
      seen[thing] = round;
      take(thing);
    }
  }
}
