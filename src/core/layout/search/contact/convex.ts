/**
 * Polygons cut into convex parts, and the sums of convex parts.
 *
 * Ring: x, y, x, y … open, counter-clockwise for material, clockwise for holes. Part: a convex ring.
 *
 * Promise: the parts cover the polygon and nothing else. Where the input is so broken that it cannot be cut, the
 * part is covered by its convex hull, which is safe for keeping things apart.
 * Cost: O(r n) cuts to weigh for r corners of n that bend inward, O(n) each that is worth it; done once for each shape.
 * Source: a cut for each corner that bends inward, and one for two where it mends both, Chazelle and Dobkin, 1985
 * (without points of its own); sums of convex polygons by merging edges, de Berg et al., Computational Geometry, 2008,
 * section 13.3.
 */

export type Ring = readonly number[];

/** Cross product of (b − a) and (c − b), by vertex index. */
function turnAt(r: Ring, a: number, b: number, c: number): number {
  const ax = r[2 * a] as number;
  const ay = r[2 * a + 1] as number;
  const bx = r[2 * b] as number;
  const by = r[2 * b + 1] as number;
  return (bx - ax) * ((r[2 * c + 1] as number) - by) - (by - ay) * ((r[2 * c] as number) - bx);
}

export function ringArea(r: Ring): number {
  const n = r.length / 2;
  let twice = 0;
  const ox = r[0] as number;
  const oy = r[1] as number;
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    twice +=
      ((r[2 * i] as number) - ox) * ((r[2 * k + 1] as number) - oy) -
      ((r[2 * k] as number) - ox) * ((r[2 * i + 1] as number) - oy);
  }
  return twice / 2;
}

/** Without repeated points and points on the straight between their neighbours, in the wanted direction. */
export function tidyRing(ring: Ring, ccw: boolean, tolerance: number): number[] {
  let points: number[] = [...ring];
  if (ringArea(points) > 0 !== ccw) points = reversed(points);
  let changed = true;
  while (changed && points.length > 6) {
    changed = false;
    const n = points.length / 2;
    for (let i = 0; i < n; i++) {
      if (!needless(points, i, n, tolerance)) continue;
      points.splice(2 * i, 2);
      changed = true;
      break;
    }
  }
  return points;
}

function reversed(r: Ring): number[] {
  const out: number[] = [];
  for (let i = r.length - 2; i >= 0; i -= 2) out.push(r[i] as number, r[i + 1] as number);
  return out;
}

function needless(r: Ring, i: number, n: number, tolerance: number): boolean {
  const a = (i + n - 1) % n;
  const c = (i + 1) % n;
  const dx = (r[2 * c] as number) - (r[2 * a] as number);
  const dy = (r[2 * c + 1] as number) - (r[2 * a + 1] as number);
  const ex = (r[2 * i] as number) - (r[2 * a] as number);
  const ey = (r[2 * i + 1] as number) - (r[2 * a + 1] as number);
  const fx = dx - ex;
  const fy = dy - ey;
  if (ex * ex + ey * ey <= tolerance * tolerance) return true;
  const length = Math.sqrt(dx * dx + dy * dy);
  return Math.abs(ex * fy - ey * fx) <= tolerance * length && ex * fx + ey * fy > 0;
}

/** Rings (one outer, counter-clockwise, and holes, clockwise) into convex rings. */
export function convexParts(outer: Ring, holes: readonly Ring[] = []): number[][] {
  const ring = bridged(outer, holes);
  const parts: number[][] = [];
  const left = [Array.from({ length: ring.length / 2 }, (_, i) => i)];
  for (let part = left.pop(); part !== undefined; part = left.pop()) {
    const bends = part.map((_, i) => isReflex(ring, part as number[], i));
    const cut = bends.includes(true) ? bestCut(ring, part, bends) : undefined;
    if (cut !== undefined) left.push(...halves(part, cut));
    else parts.push(bends.includes(true) ? hullOf(ring, part) : part);
  }
  return parts.map((part) =>
    part.flatMap((i) => [ring[2 * i] as number, ring[2 * i + 1] as number]),
  );
}

/** One ring that walks into every hole and back over a bridge that crosses nothing. */
function bridged(outer: Ring, holes: readonly Ring[]): number[] {
  let ring = [...outer];
  const left = [...holes].sort((a, b) => maxX(b) - maxX(a));
  for (const [k, hole] of left.entries()) {
    const bridge = bridgeOf(ring, hole, left.slice(k + 1));
    if (bridge === undefined) continue;
    const [i, j] = bridge;
    const n = hole.length / 2;
    const walk: number[] = [];
    for (let s = 0; s <= n; s++) {
      const v = (j + s) % n;
      walk.push(hole[2 * v] as number, hole[2 * v + 1] as number);
    }
    const here = ring.slice(2 * i, 2 * i + 2);
    ring = [...ring.slice(0, 2 * i + 2), ...walk, ...here, ...ring.slice(2 * i + 2)];
  }
  return ring;
}

function maxX(r: Ring): number {
  let x = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < r.length; i += 2) x = Math.max(x, r[i] as number);
  return x;
}

/** The shortest link between a vertex of the ring and one of the hole that crosses no edge. */
function bridgeOf(ring: Ring, hole: Ring, others: readonly Ring[]): [number, number] | undefined {
  const links: { i: number; j: number; d: number }[] = [];
  for (let i = 0; i < ring.length / 2; i++) {
    for (let j = 0; j < hole.length / 2; j++) {
      const dx = (ring[2 * i] as number) - (hole[2 * j] as number);
      const dy = (ring[2 * i + 1] as number) - (hole[2 * j + 1] as number);
      links.push({ i, j, d: dx * dx + dy * dy });
    }
  }
  links.sort((a, b) => a.d - b.d);
  const walls = [ring, hole, ...others];
  for (const { i, j } of links) {
    const a: Pair = [ring[2 * i] as number, ring[2 * i + 1] as number];
    const b: Pair = [hole[2 * j] as number, hole[2 * j + 1] as number];
    if (opensInto(ring, i, b) && walls.every((wall) => !crossesRing(a, b, wall))) return [i, j];
  }
  return undefined;
}

type Pair = readonly [number, number];

/** Vertices of a bridge come twice: only the one whose corner opens towards the target will do. */
function opensInto(ring: Ring, i: number, target: Pair): boolean {
  const n = ring.length / 2;
  const probe = [...ring, target[0], target[1]];
  const before = (i + n - 1) % n;
  const after = (i + 1) % n;
  const reflex = turnAt(ring, before, i, after) < 0;
  const leftOfIn = turnAt(probe, before, i, n) > 0;
  const leftOfOut = turnAt(probe, i, after, n) > 0;
  return reflex ? leftOfIn || leftOfOut : leftOfIn && leftOfOut;
}

function crossesRing(a: Pair, b: Pair, ring: Ring): boolean {
  const n = ring.length / 2;
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    const c: Pair = [ring[2 * i] as number, ring[2 * i + 1] as number];
    const d: Pair = [ring[2 * k] as number, ring[2 * k + 1] as number];
    if (same(a, c) || same(a, d) || same(b, c) || same(b, d)) continue;
    const o1 = side(a, b, c);
    const o2 = side(a, b, d);
    const o3 = side(c, d, a);
    const o4 = side(c, d, b);
    if (o1 * o2 <= 0 && o3 * o4 <= 0) return true;
  }
  return false;
}

function same(a: Pair, b: Pair): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

function side(a: Pair, b: Pair, c: Pair): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

/** Between two corners of a part, by their places in its list. */
interface Cut {
  readonly i: number;
  readonly j: number;
}

function halves(part: readonly number[], { i, j }: Cut): number[][] {
  const [low, high] = i < j ? [i, j] : [j, i];
  return [part.slice(low, high + 1), [...part.slice(high), ...part.slice(0, low + 1)]];
}

function isReflex(ring: Ring, part: readonly number[], i: number): boolean {
  const n = part.length;
  const [a, b, c] = [part[(i + n - 1) % n], part[i], part[(i + 1) % n]] as [number, number, number];
  return turnAt(ring, a, b, c) < 0;
}

/** A cut, how many corners it mends, and its length squared. */
interface Weighed extends Cut {
  readonly mends: number;
  readonly length: number;
}

/** The cut after which fewest corners bend inward; of equals the shortest. */
function bestCut(ring: Ring, part: readonly number[], bends: readonly boolean[]): Cut | undefined {
  const n = part.length;
  let best: Weighed | undefined;
  for (let i = 0; i < n; i++) {
    for (let k = 2; bends[i] === true && k < n - 1; k++) {
      const j = (i + k) % n;
      // Between two that bend, the cut is the same from either end.
      if (bends[j] === true && j < i) continue;
      const mends = mendsAt(ring, part, i, j) + (bends[j] === true ? mendsAt(ring, part, j, i) : 0);
      const length = squareBetween(ring, part[i] as number, part[j] as number);
      const cut = { i, j, mends, length };
      if (isBetter(cut, best) && isSound(ring, part, cut)) best = cut;
    }
  }
  return best;
}

function isBetter(a: Weighed, b: Weighed | undefined): boolean {
  if (b === undefined) return true;
  return a.mends > b.mends || (a.mends === b.mends && a.length < b.length);
}

function isSound(ring: Ring, part: readonly number[], { i, j }: Cut): boolean {
  return isInside(ring, part, i, j) && isInside(ring, part, j, i) && isFree(ring, part, i, j);
}

/** 1 where a cut from corner i to corner j leaves i bent inward on neither side. */
function mendsAt(ring: Ring, part: readonly number[], i: number, j: number): 0 | 1 {
  const [into, out] = sidesOf(ring, part, i, j);
  return into >= 0 && out >= 0 ? 1 : 0;
}

/** Does a cut from corner i to corner j begin in the part? */
function isInside(ring: Ring, part: readonly number[], i: number, j: number): boolean {
  const [into, out] = sidesOf(ring, part, i, j);
  return isReflex(ring, part, i) ? into > 0 || out > 0 : into > 0 && out > 0;
}

/** Above 0: corner j is left of the edge into corner i, left of the edge out of it. */
function sidesOf(ring: Ring, part: readonly number[], i: number, j: number): Pair {
  const n = part.length;
  const at = part[i] as number;
  const to = part[j] as number;
  return [
    turnAt(ring, part[(i + n - 1) % n] as number, at, to),
    turnAt(ring, at, part[(i + 1) % n] as number, to),
  ];
}

function squareBetween(r: Ring, i: number, j: number): number {
  const dx = (r[2 * i] as number) - (r[2 * j] as number);
  const dy = (r[2 * i + 1] as number) - (r[2 * j + 1] as number);
  return dx * dx + dy * dy;
}

/** Does a cut cross no edge of the part, nor run over a corner? Edges at its own ends are of a bridge, or touch. */
function isFree(ring: Ring, part: readonly number[], i: number, j: number): boolean {
  const p = part[i] as number;
  const q = part[j] as number;
  const n = part.length;
  for (let k = 0; k < n; k++) {
    const a = part[k] as number;
    const b = part[(k + 1) % n] as number;
    if (samePoint(ring, a, p) || samePoint(ring, a, q)) continue;
    if (samePoint(ring, b, p) || samePoint(ring, b, q)) continue;
    const acrossEdge = turnAt(ring, a, b, p) * turnAt(ring, a, b, q) <= 0;
    if (acrossEdge && turnAt(ring, p, q, a) * turnAt(ring, p, q, b) <= 0) return false;
  }
  return true;
}

function samePoint(r: Ring, i: number, j: number): boolean {
  return r[2 * i] === r[2 * j] && r[2 * i + 1] === r[2 * j + 1];
}

/** Convex hull of some of the ring's vertices (Andrew 1979). */
function hullOf(ring: Ring, vertices: readonly number[]): number[] {
  const x = (i: number): number => ring[2 * i] as number;
  const y = (i: number): number => ring[2 * i + 1] as number;
  const sorted = [...vertices].sort((i, j) => x(i) - x(j) || y(i) - y(j));
  const half = (order: readonly number[]): number[] => {
    const out: number[] = [];
    for (const i of order) {
      while (out.length > 1 && turnAt(ring, out.at(-2) as number, out.at(-1) as number, i) <= 0) {
        out.pop();
      }
      out.push(i);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

/** The ring begun at its lowest corner, of level ones at the leftmost. */
export function fromLowest(ring: Ring): number[] {
  const k = 2 * lowest(ring);
  return [...ring.slice(k), ...ring.slice(0, k)];
}

/** The sum of two convex rings, both begun at their lowest corner. */
export function convexSum(a: Ring, b: Ring): number[] {
  const n = a.length / 2;
  const m = b.length / 2;
  const out: number[] = [];
  let i = 0;
  let j = 0;
  let x = (a[0] as number) + (b[0] as number);
  let y = (a[1] as number) + (b[1] as number);
  while (i < n || j < m) {
    out.push(x, y);
    const ia = (i + 1) % n;
    const jb = (j + 1) % m;
    const ax = (a[2 * ia] as number) - (a[2 * (i % n)] as number);
    const ay = (a[2 * ia + 1] as number) - (a[2 * (i % n) + 1] as number);
    const bx = (b[2 * jb] as number) - (b[2 * (j % m)] as number);
    const by = (b[2 * jb + 1] as number) - (b[2 * (j % m) + 1] as number);
    const cross = ax * by - ay * bx;
    const takeA = i < n && (j >= m || cross >= 0);
    const takeB = j < m && (i >= n || cross <= 0);
    if (takeA) {
      x += ax;
      y += ay;
      i++;
    }
    if (takeB) {
      x += bx;
      y += by;
      j++;
    }
  }
  return out;
}

function lowest(r: Ring): number {
  let best = 0;
  for (let i = 1; i < r.length / 2; i++) {
    const dy = (r[2 * i + 1] as number) - (r[2 * best + 1] as number);
    if (dy < 0 || (dy === 0 && (r[2 * i] as number) < (r[2 * best] as number))) best = i;
  }
  return best;
}
