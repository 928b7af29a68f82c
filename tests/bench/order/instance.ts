/**
 * Public instances of ordering under precedence, in two plain forms.
 *
 * `.sop` (TSPLIB, sequential ordering): a full matrix, −1 where the column's node comes before the row's; the first
 * node is the tour's first, the last one its last. `.pcglns` (precedence-constrained generalised problem): groups of
 * nodes, one node of each is visited; lists of groups that come after another; the tour begins in the start
 * group and returns to it.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

export interface Instance {
  readonly name: string;
  readonly kind: "sequential ordering" | "generalised";
  /** Row by row; −1: may not follow directly. */
  readonly costs: readonly (readonly number[])[];
  /** Nodes of each group, from 0. */
  readonly groups: readonly (readonly number[])[];
  /** Pairs of groups: the first comes before the second. */
  readonly before: readonly (readonly [number, number])[];
  readonly startGroup: number;
  /** The tour returns to where it started. */
  readonly closed: boolean;
}

export function instancesIn(folder: string): Instance[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith(".sop") || file.endsWith(".pcglns"))
    .sort()
    .map((file) => parseInstance(file, readFileSync(join(folder, file), "utf8")));
}

export function parseInstance(file: string, text: string): Instance {
  return file.endsWith(".sop") ? sequential(file, text) : generalised(file, text);
}

function sequential(name: string, text: string): Instance {
  const costs = matrixOf(name, text);
  const before = costs.flatMap((row, i) =>
    row.flatMap((c, j): [number, number][] => (c === -1 ? [[j, i]] : [])),
  );
  const groups = costs.map((_, i) => [i]);
  return { name, kind: "sequential ordering", costs, groups, before, startGroup: 0, closed: false };
}

function generalised(name: string, text: string): Instance {
  const costs = matrixOf(name, text);
  const groups = listsOf(text, /GTSP_SET_SECTION/).map((list) => list.slice(1).map((n) => n - 1));
  const before = listsOf(text, /GTSP_SET_ORDERING/).flatMap(([first = 0, ...rest]) =>
    rest.map((after): [number, number] => [first - 1, after - 1]),
  );
  const startGroup = Number(/START_GROUP_SECTION\s*:?\s*(\d+)/.exec(text)?.[1] ?? 1) - 1;
  return { name, kind: "generalised", costs, groups, before, startGroup, closed: true };
}

function matrixOf(name: string, text: string): number[][] {
  const declared = Number(/^DIMENSION\s*:\s*(\d+)/m.exec(text)?.[1]);
  const numbers = numbersAfter(text, /EDGE_WEIGHT_SECTION/);
  // Some write the dimension once more before the matrix.
  const size = numbers.length === declared ** 2 + 1 ? numbers.shift() : declared;
  if (size !== declared || numbers.length !== declared ** 2) {
    throw new Error(`${name}: ${numbers.length} costs for ${declared} nodes`);
  }
  return Array.from({ length: declared }, (_, i) =>
    numbers.slice(i * declared, (i + 1) * declared),
  );
}

function listsOf(text: string, head: RegExp): number[][] {
  const lists: number[][] = [[]];
  for (const n of numbersAfter(text, head)) {
    if (n === -1) lists.push([]);
    else lists.at(-1)?.push(n);
  }
  return lists.filter((list) => list.length > 0);
}

/** The numbers that follow a head line, up to the next line that is none. */
function numbersAfter(text: string, head: RegExp): number[] {
  const lines = text.split(/\r?\n/);
  const from = lines.findIndex((line) => head.test(line)) + 1;
  if (from === 0) return [];
  const found: number[] = [];
  for (const line of lines.slice(from)) {
    const words = line.trim().split(/\s+/).filter(Boolean);
    if (words.some((w) => !Number.isFinite(Number(w)))) break;
    for (const w of words) found.push(Number(w));
  }
  return found;
}
