/**
 * Loose segments to loops: which ends are one point, and which way each loop goes on. Topology only; how
 * the ends are made to meet is for others.
 *
 * Words: a *node* is a set of ends that are one point; its *degree* is their number. A *strand* is one loose
 * segment with its two nodes. Dead strands lead to a free end, or join two loops as the only way between
 * them: no loop goes through them.
 *
 * Order: ends within SPECK are one node. Nodes of odd degree within the join distance are paired, nearest
 * first, so that a chain of tiny segments never collapses into one point.
 * Cost: O(n log n).
 */
import { distance, lengthOf, pointAt } from "../../geometry/segment.ts";
import type { Point, Segment } from "../../geometry/shape.ts";
import { SPECK } from "../../geometry/tolerance.ts";
import { atan2, TAU } from "../../geometry/trig.ts";
import { cellKey } from "./double/sweep.ts";

export interface Graph {
  readonly segments: readonly Segment[];
  /** Node of each end: 2i is the `from` of segment i, 2i + 1 its `to`. */
  readonly node: number[];
  /** Ends at each node. */
  readonly ends: number[][];
}

/** One step of a loop or chain: segment and direction. */
export interface Step {
  readonly index: number;
  readonly back: boolean;
}

export interface Joined {
  readonly gaps: readonly JoinedGap[];
  /** False where too many ends lie too near each other. */
  readonly complete: boolean;
}

export interface JoinedGap {
  readonly at: Point;
  readonly size: number;
}

export function endPoint(g: Graph, end: number): Point {
  const s = g.segments[end >> 1] as Segment;
  return (end & 1) === 0 ? s.from : s.to;
}

export function buildGraph(segments: readonly Segment[]): Graph {
  const g: Graph = { segments, node: [], ends: [] };
  const cells = new Map<number, number[]>();
  for (let end = 0; end < 2 * segments.length; end++) {
    const p = endPoint(g, end);
    let node = nodeNear(g, cells, p);
    if (node === undefined) {
      node = g.ends.length;
      g.ends.push([]);
      const key = cellKey(Math.floor(p.x / CELL), Math.floor(p.y / CELL));
      const list = cells.get(key);
      if (list === undefined) cells.set(key, [end]);
      else list.push(end);
    }
    g.node.push(node);
    g.ends[node]?.push(end);
  }
  return g;
}

/** Much wider than the reach, so that most points look into one cell. */
const CELL = 64 * SPECK;

/** The node that has its first end within SPECK. */
function nodeNear(g: Graph, cells: ReadonlyMap<number, number[]>, p: Point): number | undefined {
  const x1 = Math.floor((p.x + SPECK) / CELL);
  const y1 = Math.floor((p.y + SPECK) / CELL);
  for (let x = Math.floor((p.x - SPECK) / CELL); x <= x1; x++) {
    for (let y = Math.floor((p.y - SPECK) / CELL); y <= y1; y++) {
      for (const other of cells.get(cellKey(x, y)) ?? []) {
        if (distance(p, endPoint(g, other)) <= SPECK) return g.node[other];
      }
    }
  }
  return undefined;
}

/** Pairs nodes of odd degree within `reach`; returns the gaps that were joined. */
export function joinOdd(g: Graph, reach: number): Joined {
  const odd = g.ends.flatMap((e, n) => (e.length % 2 === 1 ? [n] : []));
  const spot = (n: number): Point => endPoint(g, g.ends[n]?.[0] as number);
  const pairs: { a: number; b: number; size: number }[] = [];
  const complete = forNear(odd.map(spot), reach, (i, j, size) => {
    const a = odd[i] as number;
    const b = odd[j] as number;
    if (!shortOwn(g, a, b, size)) pairs.push({ a, b, size });
  });
  pairs.sort((p, q) => p.size - q.size || p.a - q.a || p.b - q.b);
  const joined: JoinedGap[] = [];
  const used = new Set<number>();
  for (const { a, b, size } of pairs) {
    if (used.has(a) || used.has(b)) continue;
    used.add(a).add(b);
    joined.push({ at: spot(a), size });
    for (const end of g.ends[b] ?? []) {
      g.node[end] = a;
      g.ends[a]?.push(end);
    }
    g.ends[b] = [];
  }
  return { gaps: joined, complete };
}

/** The two ends of one short segment are near each other, and are not to be joined for it. */
function shortOwn(g: Graph, a: number, b: number, size: number): boolean {
  return (g.ends[a] ?? []).some(
    (e) => g.node[e ^ 1] === b && lengthOf(g.segments[e >> 1] as Segment) < 4 * size + SPECK,
  );
}

/** Pairs of near points that are looked at; a drawing with more has an anthill of ends somewhere. */
const PAIRS_MOST = 100_000;
const PAIRS_EACH = 20;

/** Calls `near(i, j, distance)` for every two points within reach; false where there were too many to look at. */
export function forNear(
  points: readonly Point[],
  reach: number,
  near: (i: number, j: number, d: number) => void,
): boolean {
  let left = PAIRS_MOST + PAIRS_EACH * points.length;
  const cells: Cells = new Map();
  for (const [i, p] of points.entries()) {
    for (const [x, y, cell] of cellsAround(cells, p, reach)) {
      left -= cell.length;
      if (left < 0) return false;
      for (const j of cell) {
        const other = points[j] as Point;
        const d = distance(p, other);
        // Cells that share a number must not count twice.
        if (d <= reach && liesIn(other, reach, x, y)) near(j, i, d);
      }
    }
    const key = cellKey(Math.floor(p.x / reach), Math.floor(p.y / reach));
    const list = cells.get(key);
    if (list === undefined) cells.set(key, [i]);
    else list.push(i);
  }
  return true;
}

function liesIn(p: Point, size: number, x: number, y: number): boolean {
  return Math.floor(p.x / size) === x && Math.floor(p.y / size) === y;
}

type Cells = Map<number, number[]>;

/** The cells about a point that hold anything, with their places. */
function cellsAround(cells: Cells, p: Point, size: number): [number, number, number[]][] {
  const cx = Math.floor(p.x / size);
  const cy = Math.floor(p.y / size);
  const found: [number, number, number[]][] = [];
  for (let x = cx - 1; x <= cx + 1; x++) {
    for (let y = cy - 1; y <= cy + 1; y++) {
      const cell = cells.get(cellKey(x, y));
      if (cell !== undefined) found.push([x, y, cell]);
    }
  }
  return found;
}

/** Marks the dead: strands to free ends first, then bridges, until neither is left. */
export function deadStrands(g: Graph): boolean[] {
  const dead = new Array<boolean>(g.segments.length).fill(false);
  const degree = g.ends.map((e) => e.length);
  prune(g, dead, degree);
  for (const index of bridges(g, dead)) {
    dead[index] = true;
    for (const end of [2 * index, 2 * index + 1]) {
      const n = g.node[end] as number;
      degree[n] = (degree[n] as number) - 1;
    }
  }
  prune(g, dead, degree);
  return dead;
}

function prune(g: Graph, dead: boolean[], degree: number[]): void {
  const queue = degree.flatMap((d, n) => (d === 1 ? [n] : []));
  while (queue.length > 0) {
    const n = queue.pop() as number;
    if (degree[n] !== 1) continue;
    const end = (g.ends[n] ?? []).find((e) => dead[e >> 1] === false);
    if (end === undefined) continue;
    dead[end >> 1] = true;
    degree[n] = 0;
    const other = g.node[end ^ 1] as number;
    degree[other] = (degree[other] as number) - 1;
    if (degree[other] === 1) queue.push(other);
  }
}

/** Strands whose loss parts the graph (R. Tarjan, Inf. Proc. Letters 2 (1974) 160–161), without recursion. */
function bridges(g: Graph, dead: readonly boolean[]): number[] {
  const search: Search = {
    order: new Array<number>(g.ends.length).fill(0),
    low: new Array<number>(g.ends.length).fill(0),
    found: [],
    clock: 0,
  };
  for (let root = 0; root < g.ends.length; root++) {
    if (search.order[root] === 0) searchFrom(g, dead, search, root);
  }
  return search.found;
}

interface Search {
  readonly order: number[];
  readonly low: number[];
  readonly found: number[];
  clock: number;
}

interface Visit {
  readonly node: number;
  readonly via: number;
  next: number;
}

function searchFrom(g: Graph, dead: readonly boolean[], s: Search, root: number): void {
  const { order, low } = s;
  const enter = (node: number, via: number): Visit => {
    order[node] = low[node] = ++s.clock;
    return { node, via, next: 0 };
  };
  const stack: Visit[] = [enter(root, -1)];
  while (stack.length > 0) {
    const top = stack[stack.length - 1] as Visit;
    const end = g.ends[top.node]?.[top.next++];
    if (end === undefined) {
      stack.pop();
      const parent = stack[stack.length - 1];
      if (parent !== undefined) leave(s, top, parent);
      continue;
    }
    const index = end >> 1;
    if (dead[index] === true || index === top.via) continue;
    const other = g.node[end ^ 1] as number;
    if (order[other] === 0) stack.push(enter(other, index));
    else low[top.node] = Math.min(low[top.node] as number, order[other] as number);
  }
}

function leave(s: Search, child: Visit, parent: Visit): void {
  const low = s.low[child.node] as number;
  s.low[parent.node] = Math.min(s.low[parent.node] as number, low);
  if (low > (s.order[parent.node] as number)) s.found.push(child.via);
}

/** Direction in which a strand leaves its end, seen a little way along it. */
export function heading(g: Graph, end: number): number {
  const s = g.segments[end >> 1] as Segment;
  const t = Math.min(0.25, 0.05 / lengthOf(s));
  const a = endPoint(g, end);
  const b = pointAt(s, (end & 1) === 0 ? t : 1 - t);
  return atan2(b.y - a.y, b.x - a.x);
}

/** Turn from one heading to another, counter-clockwise, in (0, 2π]. */
export function turnLeft(from: number, to: number): number {
  const t = (to - from) % TAU;
  return t <= 1e-12 ? t + TAU : t;
}
