/**
 * Seeded regions of many kinds for the geometry tests: what plates look like, and worse. Each is a list
 * of rings with material on the left; the seed alone decides.
 */
import { oriented, polygon, reversedContour } from "../../src/core/geometry/contour.ts";
import { meetings } from "../../src/core/geometry/intersect.ts";
import { arcOfSweep } from "../../src/core/geometry/offsetting/tidy.ts";
import { type Random, seeded } from "../../src/core/geometry/seeded.ts";
import { arc, circle, distance, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point, Segment } from "../../src/core/geometry/shape.ts";

export interface Sample {
  readonly name: string;
  readonly rings: Contour[];
}

export const snap = (x: number): number => Math.round(x * 1e4) / 1e4;
const at = (x: number, y: number): Point => ({ x: snap(x), y: snap(y) });
const between = (random: Random, a: number, b: number): number => a + (b - a) * random();

export function points(...xy: number[]): Point[] {
  const out: Point[] = [];
  for (let i = 0; i + 1 < xy.length; i += 2)
    out.push({ x: xy[i] as number, y: xy[i + 1] as number });
  return out;
}

/** Corner points on rays at even angles: always simple. */
export function starPoints(random: Random, n: number, inner: number, outer: number): Point[] {
  const turn = between(random, 0, 6.28);
  return Array.from({ length: n }, (_, i) => {
    const r = between(random, inner, outer);
    const a = turn + (2 * Math.PI * (i + between(random, -0.3, 0.3))) / n;
    return at(r * Math.cos(a), r * Math.sin(a));
  });
}

/** Each corner rounded by a tangent arc of at most `radius`, as much as its sides allow. */
export function filleted(
  corners: readonly Point[],
  radius: (i: number) => number,
  grid = true,
): Contour {
  const n = corners.length;
  const place = grid ? at : (x: number, y: number): Point => ({ x, y });
  const cuts = corners.map((p, i) => {
    const a = corners[(i + n - 1) % n] as Point;
    const b = corners[(i + 1) % n] as Point;
    const la = distance(a, p);
    const lb = distance(b, p);
    const u = { x: (a.x - p.x) / la, y: (a.y - p.y) / la };
    const v = { x: (b.x - p.x) / lb, y: (b.y - p.y) / lb };
    const angle = Math.acos(Math.max(-1, Math.min(1, u.x * v.x + u.y * v.y)));
    const tan = Math.tan(angle / 2);
    const r = Math.min(radius(i), 0.49 * Math.min(la, lb) * tan);
    const cut = r / tan;
    const turn = Math.sign((p.x - a.x) * (b.y - p.y) - (p.y - a.y) * (b.x - p.x));
    return {
      from: place(p.x + u.x * cut, p.y + u.y * cut),
      to: place(p.x + v.x * cut, p.y + v.y * cut),
      sweep: turn * (Math.PI - angle),
      round: r > 0.01 && Math.PI - angle > 0.01,
      corner: p,
    };
  });
  const segments: Segment[] = [];
  cuts.forEach((c, i) => {
    const next = cuts[(i + 1) % n] as (typeof cuts)[number];
    if (c.round) segments.push(arcOfSweep(c.from, c.to, c.sweep));
    segments.push(line(c.round ? c.to : c.corner, next.round ? next.from : next.corner));
  });
  return { segments };
}

/** Sides bulged by up to `most` rad of sweep either way. */
export function bulged(corners: readonly Point[], random: Random, most: number): Contour {
  return {
    segments: corners.map((p, i) => {
      const q = corners[(i + 1) % corners.length] as Point;
      const sweep = between(random, -most, most);
      return random() < 0.3 || Math.abs(sweep) < 0.02 ? line(p, q) : arcOfSweep(p, q, sweep);
    }),
  };
}

export function roundedBox(x: number, y: number, w: number, h: number, r: number): Contour {
  if (r === 0) return polygon(points(x, y, x + w, y, x + w, y + h, x, y + h));
  return {
    segments: [
      line({ x: x + r, y }, { x: x + w - r, y }),
      arc({ x: x + w - r, y }, { x: x + w, y: y + r }, { x: x + w - r, y: y + r }, true),
      line({ x: x + w, y: y + r }, { x: x + w, y: y + h - r }),
      arc(
        { x: x + w, y: y + h - r },
        { x: x + w - r, y: y + h },
        { x: x + w - r, y: y + h - r },
        true,
      ),
      line({ x: x + w - r, y: y + h }, { x: x + r, y: y + h }),
      arc({ x: x + r, y: y + h }, { x, y: y + h - r }, { x: x + r, y: y + h - r }, true),
      line({ x, y: y + h - r }, { x, y: y + r }),
      arc({ x, y: y + r }, { x: x + r, y }, { x: x + r, y: y + r }, true),
    ].filter((s) => distance(s.from, s.to) > 0),
  };
}

/** A slot: two parallel sides and two half circles, along X. */
export function slot(x: number, y: number, length: number, width: number): Contour {
  const r = width / 2;
  const h = (length - width) / 2;
  return {
    segments: [
      line({ x: x - h, y: y - r }, { x: x + h, y: y - r }),
      arc({ x: x + h, y: y - r }, { x: x + h, y: y + r }, { x: x + h, y }, true),
      line({ x: x + h, y: y + r }, { x: x - h, y: y + r }),
      arc({ x: x - h, y: y + r }, { x: x - h, y: y - r }, { x: x - h, y }, true),
    ],
  };
}

/** A plate with holes, slots and filleted windows on a grid of `columns` by `rows`. */
export function plate(random: Random, columns: number, rows: number, pitch = 20): Contour[] {
  const outer = roundedBox(0, 0, columns * pitch + 6, rows * pitch + 6, between(random, 0.5, 9));
  const holes: Contour[] = [];
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < rows; j++) {
      const x = snap(3 + pitch * (i + 0.5) + between(random, -1, 1));
      const y = snap(3 + pitch * (j + 0.5) + between(random, -1, 1));
      const size = snap(between(random, 1, 0.44 * pitch));
      const kind = random();
      if (kind < 0.35) holes.push({ segments: [circle({ x, y }, size, true)] });
      else if (kind < 0.6) holes.push(slot(x, y, 2 * size, snap(size * 0.8)));
      else if (kind < 0.8) {
        const s = size * 0.9;
        holes.push(roundedBox(x - s, y - s / 2, 2 * s, s, snap(between(random, 0, s / 2))));
      } else {
        const star = starPoints(random, 3 + Math.floor(random() * 8), size * 0.4, size);
        const moved = star.map((p) => at(p.x + x, p.y + y));
        holes.push(filleted(moved, () => between(random, 0, 2)));
      }
    }
  }
  return [outer, ...holes.map(reversedContour)];
}

/** No two segments meet but at shared ends: for shapes that are not simple by their making. */
export function isSimpleRing(ring: Contour): boolean {
  const s = ring.segments;
  for (let i = 0; i < s.length; i++) {
    for (let j = i + 1; j < s.length; j++) {
      const a = s[i] as Segment;
      const b = s[j] as Segment;
      const shared = [a.from, a.to].filter((p) => p === b.from || p === b.to);
      for (const m of meetings(a, b, 1e-6)) {
        if (shared.every((p) => distance(p, m.point) > 1e-4)) return false;
      }
    }
  }
  return true;
}

/** A curve in many facets: a wavy ring of short lines. */
function facets(random: Random, n: number): Contour {
  const waves = 2 + Math.floor(random() * 5);
  const depth = between(random, 0.05, 0.35);
  return polygon(
    Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * i) / n;
      const r = 25 * (1 + depth * Math.sin(waves * a));
      return at(r * Math.cos(a), r * Math.sin(a));
    }),
  );
}

/** Teeth with gaps near twice the offset distances that tests use. */
function comb(random: Random): Contour {
  const corners: Point[] = [at(0, 0)];
  let x = 0;
  const n = 3 + Math.floor(random() * 6);
  for (let i = 0; i < n; i++) {
    const w = between(random, 1.5, 6);
    const gap = between(random, 1.5, 6);
    const h = between(random, 4, 15);
    corners.push(at(x, 5 + h), at(x + w, 5 + h), at(x + w, 5), at(x + w + gap, 5));
    x += w + gap;
  }
  corners.push(at(x, 0));
  const radius = between(random, 0, 2);
  return oriented(
    filleted(corners, () => radius),
    true,
  );
}

/** Two pads and a neck. */
function dumbbell(random: Random): Contour {
  const r1 = between(random, 4, 10);
  const r2 = between(random, 4, 10);
  const neck = between(random, 0.4, Math.min(r1, r2)) / 2;
  const a1 = Math.asin(neck / r1);
  const a2 = Math.asin(neck / r2);
  const far = between(random, 8, 30) + r1 + r2;
  const p = [
    at(r1 * Math.cos(a1), -r1 * Math.sin(a1)),
    at(far - r2 * Math.cos(a2), -r2 * Math.sin(a2)),
    at(far - r2 * Math.cos(a2), r2 * Math.sin(a2)),
    at(r1 * Math.cos(a1), r1 * Math.sin(a1)),
  ] as [Point, Point, Point, Point];
  return {
    segments: [
      line(p[0], p[1]),
      arcOfSweep(p[1], p[2], 2 * Math.PI - 2 * a2),
      line(p[2], p[3]),
      arcOfSweep(p[3], p[0], 2 * Math.PI - 2 * a1),
    ],
  };
}

function simpleBulged(random: Random): Contour {
  for (;;) {
    const n = 3 + Math.floor(random() * 9);
    const ring = bulged(starPoints(random, n, 8, 25), random, 2.5);
    if (isSimpleRing(ring)) return ring;
  }
}

const KINDS: readonly ((random: Random) => [string, Contour[]])[] = [
  (r) => ["star", [polygon(starPoints(r, 3 + Math.floor(r() * 30), 6, 30))]],
  (r) => [
    "filleted star",
    [filleted(starPoints(r, 3 + Math.floor(r() * 20), 8, 30), () => 4 * r())],
  ],
  (r) => ["bulged", [simpleBulged(r)]],
  (r) => ["plate", plate(r, 1 + Math.floor(r() * 4), 1 + Math.floor(r() * 3))],
  (r) => ["facets", [facets(r, 60 + Math.floor(r() * 200))]],
  (r) => ["comb", [comb(r)]],
  (r) => ["dumbbell", [dumbbell(r)]],
  (r) => ["far plate", plate(r, 2, 1).map((c) => shifted(c, 10_000, -7_000))],
];

export function shifted(c: Contour, dx: number, dy: number): Contour {
  const move = (p: Point): Point => ({ x: p.x + dx, y: p.y + dy });
  let first: Point | undefined;
  let last: Point | undefined;
  const segments = c.segments.map((s, i): Segment => {
    const from = last ?? move(s.from);
    first ??= from;
    const to = i === c.segments.length - 1 ? first : move(s.to);
    last = to;
    return s.kind === "line" ? { ...s, from, to } : { ...s, from, to, centre: move(s.centre) };
  });
  return { segments };
}

/** The sample of a seed; kinds take turns. */
export function sample(seed: number): Sample {
  const random = seeded(seed * 7919 + 13);
  const make = KINDS[seed % KINDS.length] as (typeof KINDS)[number];
  const [kind, rings] = make(random);
  const [outer, ...holes] = rings as [Contour, ...Contour[]];
  return {
    name: `${kind} ${seed}`,
    rings: [oriented(outer, true), ...holes.map((h) => oriented(h, false))],
  };
}
