/**
 * Where one shape may not stand beside another (the no-fit region), and that region's boundary.
 *
 * For shapes cut into convex parts, the region is the union of the differences of all pairs of parts, each of
 * them open: a place on the boundary is a touch, and allowed. The union is never formed. It is kept as its
 * parts, for asking whether a place is inside, and as the pieces of the parts' edges that lie inside no other
 * part, for asking how far it is out. So slits and single points, where a piece fits exactly between two
 * others, survive, which a union by polygon clipping would swallow.
 *
 * Cost: O(k² e) for k parts of e edges in all.
 * Source: no-fit polygons, Bennell and Oliveira, EJOR 184(2), 2008; depth as distance to their boundary,
 * Imamichi, Yagiura and Nagamochi, Discrete Optimization 6(4), 2009.
 */
import { convexDifference, type Ring } from "./convex.ts";

export interface Region {
  /** Half planes nx·x + ny·y > c of every convex part, three numbers each, unit normals pointing in. */
  readonly parts: readonly Float64Array[];
  /** Their corners. */
  readonly rings: readonly Ring[];
  /** Boundary pieces x0, y0, x1, y1; empty where there is one part alone. */
  readonly edges: readonly number[];
}

export function regionOf(a: readonly Ring[], b: readonly Ring[], tolerance: number): Region {
  const rings = a.flatMap((p) => b.map((q) => convexDifference(p, q)));
  const parts = rings.map(halfPlanes);
  const kept = parts.map((_, i) => i).filter((i) => !swallowed(rings, parts, i, tolerance));
  const inner = kept.map((i) => parts[i] as Float64Array);
  const edges =
    kept.length === 1
      ? []
      : kept.flatMap((i, at) => freeEdges(rings[i] as number[], at, inner, tolerance));
  return { parts: inner, rings: kept.map((i) => rings[i] as number[]), edges };
}

function halfPlanes(ring: Ring): Float64Array {
  const n = ring.length / 2;
  const out: number[] = [];
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    const x = ring[2 * i] as number;
    const y = ring[2 * i + 1] as number;
    const dx = (ring[2 * k] as number) - x;
    const dy = (ring[2 * k + 1] as number) - y;
    const d = Math.sqrt(dx * dx + dy * dy);
    if (d === 0) continue;
    const nx = -dy / d;
    const ny = dx / d;
    out.push(nx, ny, nx * x + ny * y);
  }
  return Float64Array.from(out);
}

/** Wholly inside one other part; of equals the later one goes. */
function swallowed(
  rings: readonly Ring[],
  parts: readonly Float64Array[],
  i: number,
  tolerance: number,
): boolean {
  const ring = rings[i] as Ring;
  return parts.some((other, j) => {
    if (i === j || !holds(other, ring, tolerance)) return false;
    return j < i || !holds(parts[i] as Float64Array, rings[j] as Ring, tolerance);
  });
}

function holds(part: Float64Array, ring: Ring, tolerance: number): boolean {
  for (let k = 0; k < part.length; k += 3) {
    for (let i = 0; i < ring.length; i += 2) {
      if (height(part, k, ring[i] as number, ring[i + 1] as number) < -tolerance) return false;
    }
  }
  return true;
}

/** Distance of a point inside of one half plane. */
function height(part: Float64Array, k: number, x: number, y: number): number {
  return (part[k] as number) * x + (part[k + 1] as number) * y - (part[k + 2] as number);
}

/** What remains of the edges of part `at` outside all other parts. */
function freeEdges(
  ring: Ring,
  at: number,
  parts: readonly Float64Array[],
  tolerance: number,
): number[] {
  const out: number[] = [];
  const n = ring.length / 2;
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    const edge: Edge = {
      x: ring[2 * i] as number,
      y: ring[2 * i + 1] as number,
      dx: (ring[2 * k] as number) - (ring[2 * i] as number),
      dy: (ring[2 * k + 1] as number) - (ring[2 * i + 1] as number),
    };
    for (const [from, to] of leftOver(edge, at, parts, tolerance)) {
      out.push(edge.x + from * edge.dx, edge.y + from * edge.dy);
      out.push(edge.x + to * edge.dx, edge.y + to * edge.dy);
    }
  }
  return out;
}

interface Edge {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

type Span = readonly [number, number];

function leftOver(
  edge: Edge,
  at: number,
  parts: readonly Float64Array[],
  tolerance: number,
): Span[] {
  const covered: Span[] = [];
  for (const [j, part] of parts.entries()) {
    if (j === at) continue;
    const span = spanInside(edge, part, j < at, tolerance);
    if (span === undefined) continue;
    if (span[0] <= 0 && span[1] >= 1) return [];
    covered.push(span);
  }
  covered.sort((p, q) => p[0] - q[0]);
  const free: Span[] = [];
  let from = 0;
  for (const [start, end] of covered) {
    if (start > from) free.push([from, start]);
    from = Math.max(from, end);
  }
  if (from < 1) free.push([from, 1]);
  return free;
}

/** The stretch of an edge, 0 … 1, inside an open part; an edge along a part's own counts as inside where `shared`. */
function spanInside(
  edge: Edge,
  part: Float64Array,
  shared: boolean,
  tolerance: number,
): Span | undefined {
  let from = 0;
  let to = 1;
  for (let k = 0; k < part.length; k += 3) {
    const s0 = height(part, k, edge.x, edge.y);
    const s1 = height(part, k, edge.x + edge.dx, edge.y + edge.dy);
    if (s0 <= tolerance && s1 <= tolerance) {
      const along = (part[k + 1] as number) * edge.dx - (part[k] as number) * edge.dy > 0;
      if (!(shared && along && s0 >= -tolerance && s1 >= -tolerance)) return undefined;
    } else if (s0 <= tolerance) {
      from = Math.max(from, (tolerance - s0) / (s1 - s0));
    } else if (s1 <= tolerance) {
      to = Math.min(to, (s0 - tolerance) / (s0 - s1));
    }
  }
  return from < to ? [from, to] : undefined;
}
