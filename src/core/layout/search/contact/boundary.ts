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
  const parts = rings.map((ring): Part => ({ ring, planes: halfPlanes(ring), box: boxOf(ring) }));
  const kept = parts.filter((_, i) => !swallowed(parts, i, tolerance));
  const edges = kept.length === 1 ? [] : kept.flatMap((_, at) => freeEdges(kept, at, tolerance));
  return { parts: kept.map((p) => p.planes), rings: kept.map((p) => p.ring), edges };
}

interface Part {
  readonly ring: Ring;
  readonly planes: Float64Array;
  readonly box: Box;
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(ring: Ring): Box {
  let [x0, y0, x1, y1] = [ring[0] ?? 0, ring[1] ?? 0, ring[0] ?? 0, ring[1] ?? 0];
  for (let i = 2; i < ring.length; i += 2) {
    const x = ring[i] as number;
    const y = ring[i + 1] as number;
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return [x0, y0, x1, y1];
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
function swallowed(parts: readonly Part[], i: number, tolerance: number): boolean {
  const own = parts[i] as Part;
  return parts.some((other, j) => {
    if (i === j || !holds(other, own, tolerance)) return false;
    return j < i || !holds(own, other, tolerance);
  });
}

function holds({ planes, box }: Part, { ring, box: inner }: Part, tolerance: number): boolean {
  // Room for what half planes round: a part that its box does not keep out is asked.
  const room = 2 * tolerance;
  if (inner[0] < box[0] - room || inner[2] > box[2] + room) return false;
  if (inner[1] < box[1] - room || inner[3] > box[3] + room) return false;
  for (let k = 0; k < planes.length; k += 3) {
    for (let i = 0; i < ring.length; i += 2) {
      if (height(planes, k, ring[i] as number, ring[i + 1] as number) < -tolerance) return false;
    }
  }
  return true;
}

/** Distance of a point inside of one half plane. */
function height(part: Float64Array, k: number, x: number, y: number): number {
  return (part[k] as number) * x + (part[k + 1] as number) * y - (part[k + 2] as number);
}

/** What remains of the edges of part `at` outside all other parts. */
function freeEdges(parts: readonly Part[], at: number, tolerance: number): number[] {
  const out: number[] = [];
  const { ring } = parts[at] as Part;
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

function leftOver(edge: Edge, at: number, parts: readonly Part[], tolerance: number): Span[] {
  const covered: Span[] = [];
  const x0 = Math.min(edge.x, edge.x + edge.dx);
  const x1 = Math.max(edge.x, edge.x + edge.dx);
  const y0 = Math.min(edge.y, edge.y + edge.dy);
  const y1 = Math.max(edge.y, edge.y + edge.dy);
  for (let j = 0; j < parts.length; j++) {
    const { planes, box } = parts[j] as Part;
    // Inside is open, so what no more than touches a part's box has nothing in the part, nor along its edges.
    const room = 2 * tolerance;
    if (j === at || x0 > box[2] + room || x1 < box[0] - room) continue;
    if (y0 > box[3] + room || y1 < box[1] - room) continue;
    const span = spanInside(edge, planes, j < at, tolerance);
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
