/**
 * A grid over the sheet: which things lie near a place. Each thing is entered in every cell that its
 * box touches, so a query looks at a handful of cells and may meet a thing more than once.
 *
 * Cost: O(1) a cell; things are numbers, 4 bytes for each cell that they touch.
 */
export interface Grid extends Lattice {
  readonly cells: (number[] | undefined)[];
  /** For `visit`: the round in which a thing was met last. */
  readonly seen: Int32Array;
  round: number;
}

type Box = readonly [number, number, number, number];

/** `most` is the number of things that may be entered. */
export function newGrid(box: Box, cell: number, most: number): Grid {
  const columns = Math.max(1, Math.ceil((box[2] - box[0]) / cell));
  const rows = Math.max(1, Math.ceil((box[3] - box[1]) / cell));
  return {
    cell,
    x: box[0],
    y: box[1],
    columns,
    rows,
    cells: new Array<number[] | undefined>(columns * rows),
    seen: new Int32Array(most),
    round: 0,
  };
}

const clamp = (v: number, most: number): number => (v < 0 ? 0 : v > most ? most : v);

/** What a place is looked up in. */
export interface Lattice {
  readonly cell: number;
  readonly x: number;
  readonly y: number;
  readonly columns: number;
  readonly rows: number;
}

export function columnOf(grid: Lattice, x: number): number {
  return clamp(Math.floor((x - grid.x) / grid.cell), grid.columns - 1);
}

export function rowOf(grid: Lattice, y: number): number {
  return clamp(Math.floor((y - grid.y) / grid.cell), grid.rows - 1);
}

export function enter(grid: Grid, thing: number, box: Box): void {
  const i0 = columnOf(grid, box[0]);
  const i1 = columnOf(grid, box[2]);
  const j1 = rowOf(grid, box[3]);
  for (let j = rowOf(grid, box[1]); j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const at = j * grid.columns + i;
      const list = grid.cells[at];
      if (list === undefined) grid.cells[at] = [thing];
      else list.push(thing);
    }
  }
}

/** Things entered near a point; a point outside the grid gets its border's. */
export function at(grid: Grid, x: number, y: number): readonly number[] | undefined {
  return grid.cells[rowOf(grid, y) * grid.columns + columnOf(grid, x)];
}

/** Every thing whose cells meet the box, once. */
export function visit(grid: Grid, box: Box, take: (thing: number) => void): void {
  grid.round++;
  const i0 = columnOf(grid, box[0]);
  const i1 = columnOf(grid, box[2]);
  const j1 = rowOf(grid, box[3]);
  for (let j = rowOf(grid, box[1]); j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const list = grid.cells[j * grid.columns + i];
      if (list === undefined) continue;
      for (const thing of list) {
        if (grid.seen[thing] === grid.round) continue;
        grid.seen[thing] = grid.round;
        take(thing);
      }
    }
  }
}
