/**
 * Polygons cut into convex parts, and the sums of convex parts.
 *
 * Ring: x, y, x, y … open, counter-clockwise for material, clockwise for holes. Part: a convex ring.
 *
 * Promise: the parts cover the polygon and nothing else, within WELD. Where the input is so broken that no ear
 * can be cut, the rest is covered by its convex hull, which is safe for keeping things apart.
 * Cost: O(n²) ears, O(n²) merges, for n vertices; done once for each shape.
 * Source: ear cutting, Meisters 1975; merging what stays convex, Hertel and Mehlhorn 1983; sums of convex
 * polygons by merging edges, de Berg et al., Computational Geometry, 2008, section 13.3.
 * Long, since cutting and adding are two halves of one thing.
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
  const triangles = earsOf(ring);
  return merged(ring, triangles).map((part) =>
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

/** Triangles by vertex index; of all ears the fattest is cut first, which leaves fewer parts after merging. */
function earsOf(ring: Ring): number[][] {
  const left = Array.from({ length: ring.length / 2 }, (_, i) => i);
  const triangles: number[][] = [];
  while (left.length > 3) {
    const k = fattestEar(ring, left);
    if (k < 0) return [...triangles, hullOf(ring, left)];
    const n = left.length;
    triangles.push([left[(k + n - 1) % n], left[k], left[(k + 1) % n]] as number[]);
    left.splice(k, 1);
  }
  const [a, b, c] = left as [number, number, number];
  if (turnAt(ring, a, b, c) > 0) triangles.push(left);
  return triangles;
}

function fattestEar(ring: Ring, left: readonly number[]): number {
  const n = left.length;
  let best = -1;
  let bestShape = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < n; k++) {
    const a = left[(k + n - 1) % n] as number;
    const b = left[k] as number;
    const c = left[(k + 1) % n] as number;
    const turn = turnAt(ring, a, b, c);
    if (turn < 0 || (turn > 0 && !isEar(ring, left, k))) continue;
    const shape = turn === 0 ? 0 : turn / longest(ring, a, b, c);
    if (shape > bestShape) {
      bestShape = shape;
      best = k;
    }
  }
  return best;
}

function longest(r: Ring, a: number, b: number, c: number): number {
  const d = (i: number, j: number): number => {
    const dx = (r[2 * i] as number) - (r[2 * j] as number);
    const dy = (r[2 * i + 1] as number) - (r[2 * j + 1] as number);
    return dx * dx + dy * dy;
  };
  return Math.max(d(a, b), d(b, c), d(c, a));
}

/** No other corner of the ring lies in the triangle; corners at its own points are of a bridge, or touch. */
function isEar(ring: Ring, left: readonly number[], k: number): boolean {
  const n = left.length;
  const a = left[(k + n - 1) % n] as number;
  const b = left[k] as number;
  const c = left[(k + 1) % n] as number;
  for (let m = 2; m < n - 1; m++) {
    const p = left[(k + m) % n] as number;
    if (samePoint(ring, p, a) || samePoint(ring, p, b) || samePoint(ring, p, c)) continue;
    const s1 = turnAt(ring, a, b, p);
    const s2 = turnAt(ring, b, c, p);
    const s3 = turnAt(ring, c, a, p);
    if (s1 >= 0 && s2 >= 0 && s3 >= 0) return false;
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

/**
 * Parts that share an edge become one as long as it stays convex; the longest shared edges go first. Each edge is
 * tried once: parts only grow, and so do the corners at an edge's ends, so what is not convex will never be.
 */
function merged(ring: Ring, triangles: readonly (readonly number[])[]): number[][] {
  const parts: (number[] | undefined)[] = triangles.map((t) => [...t]);
  const owner = triangles.map((_, i) => i);
  for (const { i, j } of sharedEdges(ring, triangles)) {
    const [p, q] = [ownerOf(owner, i), ownerOf(owner, j)];
    if (p === q) continue;
    const whole = joined(ring, parts[p] as number[], parts[q] as number[]);
    if (whole === undefined) continue;
    owner[q] = p;
    parts[p] = whole;
    parts[q] = undefined;
  }
  return parts.filter((part) => part !== undefined);
}

function ownerOf(owner: number[], i: number): number {
  let at = i;
  while (owner[at] !== at) at = owner[at] as number;
  owner[i] = at;
  return at;
}

interface Shared {
  readonly i: number;
  readonly j: number;
  readonly length: number;
}

/** Pairs of triangles with an edge in common, longest first. */
function sharedEdges(ring: Ring, triangles: readonly (readonly number[])[]): Shared[] {
  const out: Shared[] = [];
  for (const [i, p] of triangles.entries()) {
    for (let j = i + 1; j < triangles.length; j++) {
      const q = triangles[j] as readonly number[];
      for (const [k, l] of commonEdges(ring, p, q)) {
        const a = p[k] as number;
        out.push({ i, j, length: longest(ring, a, q[l] as number, a) });
      }
    }
  }
  return out.sort((a, b) => b.length - a.length);
}

/** Places in p and q of edges that both have, in opposite directions. */
function commonEdges(ring: Ring, p: readonly number[], q: readonly number[]): [number, number][] {
  const out: [number, number][] = [];
  for (let i = 0; i < p.length; i++) {
    const a = p[i] as number;
    const b = p[(i + 1) % p.length] as number;
    for (let j = 0; j < q.length; j++) {
      if (!samePoint(ring, b, q[j] as number)) continue;
      if (samePoint(ring, a, q[(j + 1) % q.length] as number)) out.push([i, j]);
    }
  }
  return out;
}

/** p from the end of a common edge round to its start, then q from there round. */
function joined(ring: Ring, p: readonly number[], q: readonly number[]): number[] | undefined {
  for (const [i, j] of commonEdges(ring, p, q)) {
    const whole: number[] = [];
    for (let s = 0; s < p.length; s++) whole.push(p[(i + 1 + s) % p.length] as number);
    for (let s = 2; s < q.length; s++) whole.push(q[(j + s) % q.length] as number);
    if (isConvex(ring, whole)) return whole;
  }
  return undefined;
}

function isConvex(ring: Ring, part: readonly number[]): boolean {
  const n = part.length;
  for (let i = 0; i < n; i++) {
    const turn = turnAt(
      ring,
      part[i] as number,
      part[(i + 1) % n] as number,
      part[(i + 2) % n] as number,
    );
    if (turn < 0) return false;
  }
  return true;
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
