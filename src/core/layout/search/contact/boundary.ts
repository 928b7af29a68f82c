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
import { convexSum, fromLowest, type Ring } from "./convex.ts";

export interface Region {
  /** Half planes nx·x + ny·y > c of every convex part, three numbers each, unit normals pointing in. */
  readonly parts: readonly Float64Array[];
  /** Their corners. */
  readonly rings: readonly Ring[];
  /** Boundary pieces x0, y0, x1, y1; empty where there is one part alone. */
  readonly edges: readonly number[];
}

export function regionOf(a: readonly Ring[], b: readonly Ring[], tolerance: number): Region {
  const from = a.map(fromLowest);
  const minus = b.map((q) => fromLowest(q.map((v) => -v)));
  const parts: Part[] = [];
  for (const p of from) {
    for (const q of minus) {
      const ring = convexSum(p, q);
      parts.push({ ring, planes: halfPlanes(ring), box: boxOf(ring) });
    }
  }
  const kept = parts.filter((_, i) => !swallowed(parts, i, tolerance));
  // The largest first: they cover most of the others' edges, and what is covered is asked no further.
  kept.sort((p, q) => boxArea(q.box) - boxArea(p.box));
  const edges: number[] = [];
  if (kept.length > 1) {
    for (let at = 0; at < kept.length; at++) addFreeEdges(edges, kept, at, tolerance);
  }
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

function boxArea([x0, y0, x1, y1]: Box): number {
  return (x1 - x0) * (y1 - y0);
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
  for (let j = 0; j < parts.length; j++) {
    const other = parts[j] as Part;
    if (i === j || !boxHolds(other.box, own.box, tolerance) || !holds(other, own, tolerance)) {
      continue;
    }
    if (j < i || !holds(own, other, tolerance)) return true;
  }
  return false;
}

function boxHolds(box: Box, inner: Box, tolerance: number): boolean {
  // Room for what half planes round: a part that its box does not keep out is asked.
  const room = 2 * tolerance;
  return (
    inner[0] >= box[0] - room &&
    inner[2] <= box[2] + room &&
    inner[1] >= box[1] - room &&
    inner[3] <= box[3] + room
  );
}

function holds({ planes }: Part, { ring }: Part, tolerance: number): boolean {
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

/** Adds what remains of the edges of part `at` outside all other parts. */
function addFreeEdges(out: number[], parts: readonly Part[], at: number, tolerance: number): void {
  const { ring, box } = parts[at] as Part;
  // Inside is open, so what no more than touches a part's box has nothing in the part, nor along its edges.
  const room = 2 * tolerance;
  const near: number[] = [];
  for (let j = 0; j < parts.length; j++) {
    if (j !== at && boxesNear(box, (parts[j] as Part).box, room)) near.push(j);
  }
  const n = ring.length / 2;
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    const edge: Edge = {
      x: ring[2 * i] as number,
      y: ring[2 * i + 1] as number,
      dx: (ring[2 * k] as number) - (ring[2 * i] as number),
      dy: (ring[2 * k + 1] as number) - (ring[2 * i + 1] as number),
    };
    for (const [from, to] of leftOver(edge, at, parts, near, tolerance)) {
      out.push(edge.x + from * edge.dx, edge.y + from * edge.dy);
      out.push(edge.x + to * edge.dx, edge.y + to * edge.dy);
    }
  }
}

function boxesNear(a: Box, b: Box, room: number): boolean {
  return a[0] <= b[2] + room && a[2] >= b[0] - room && a[1] <= b[3] + room && a[3] >= b[1] - room;
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
  parts: readonly Part[],
  near: readonly number[],
  tolerance: number,
): Span[] {
  const covered: Span[] = [];
  const box: Box = [
    Math.min(edge.x, edge.x + edge.dx),
    Math.min(edge.y, edge.y + edge.dy),
    Math.max(edge.x, edge.x + edge.dx),
    Math.max(edge.y, edge.y + edge.dy),
  ];
  for (const j of near) {
    const other = parts[j] as Part;
    if (!boxesNear(box, other.box, 2 * tolerance)) continue;
    const span = spanInside(edge, other.planes, j < at, tolerance);
    if (span === undefined) continue;
    if (span[0] <= 0 && span[1] >= 1) return [];
    covered.push(span);
  }
  covered.sort((p, q) => p[0] - q[0]);
  const free: Span[] = [];
  let from = 0;
  for (const span of covered) {
    if (span[0] > from) free.push([from, span[0]]);
    from = Math.max(from, span[1]);
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
