import process from "node:process";
import { expect, test } from "vitest";
import type { Drafted } from "../../src/core/airframe/draft.ts";
import { flatten } from "../../src/core/geometry/contour.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { checkedPlates, draftText, netArea, readBack } from "./drafted.ts";
import { seededFile } from "./seeded-airframe.ts";

const SEEDS = process.env["WEFTCUT_LONG"] === undefined ? 10 : 300;

/** Facets' strays, mm. */
const FINE = 0.02;

type Side = readonly [Point, Point];

function sidesOf(ring: readonly Point[]): Side[] {
  return ring.map((p, i) => [p, ring[(i + 1) % ring.length] as Point]);
}

function turn(p: Point, q: Point, r: Point): number {
  return Math.sign((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x));
}

function apart([p, q]: Side, [r, s]: Side, by: number): boolean {
  return (
    Math.max(p.x, q.x) + by < Math.min(r.x, s.x) ||
    Math.max(r.x, s.x) + by < Math.min(p.x, q.x) ||
    Math.max(p.y, q.y) + by < Math.min(r.y, s.y) ||
    Math.max(r.y, s.y) + by < Math.min(p.y, q.y)
  );
}

/** Do two polylines cross? By the signs of triangles alone: an oracle that knows nothing of arcs or offsets. */
function cross(a: readonly Side[], b: readonly Side[]): boolean {
  return a.some((u) =>
    b.some((v) => {
      if (apart(u, v, 0)) return false;
      const [p, q] = u;
      const [r, s] = v;
      return turn(p, q, r) * turn(p, q, s) < 0 && turn(r, s, p) * turn(r, s, q) < 0;
    }),
  );
}

/** Nearest of b's corners to a's sides, if under `enough`: the web, as near as facets tell. */
function nearest(a: readonly Side[], b: readonly Side[], enough: number): number {
  let best = enough;
  for (const [q, r] of a) {
    for (const v of b) {
      if (apart([q, r], v, best)) continue;
      const [p] = v;
      const [dx, dy] = [r.x - q.x, r.y - q.y];
      const along = ((p.x - q.x) * dx + (p.y - q.y) * dy) / (dx * dx + dy * dy);
      const t = Math.max(0, Math.min(1, along));
      best = Math.min(best, Math.hypot(p.x - q.x - t * dx, p.y - q.y - t * dy));
    }
  }
  return best;
}

function seen(c: Contour): Side[] {
  return sidesOf(flatten(c, FINE));
}

function expectClean(d: Drafted, seed: number): void {
  for (const p of d.airframe?.plates ?? []) {
    const rings = [p.outer, ...p.cutouts.map((c) => c.contour)].map(seen);
    rings.forEach((a, i) => {
      expect(cross(a, a), `seed ${seed}: ring ${i} of ${p.name} crosses itself`).toBe(false);
      rings.slice(i + 1).forEach((b, k) => {
        const of = `seed ${seed}: ${p.name}, rings ${i} and ${i + 1 + k}`;
        expect(cross(a, b), `${of} cross`).toBe(false);
        expect(nearest(a, b, 2), `${of} leave a sliver`).toBeGreaterThan(1 - 2 * FINE);
      });
    });
    const { plates, problems } = readBack(d, `${p.name}.dxf`);
    expect(problems, `seed ${seed}`).toEqual([]);
    expect(plates[0]?.features.length, `seed ${seed}: ${p.name}`).toBe(p.cutouts.length);
    expect(plates[0]?.area).toBeCloseTo(netArea(p), 1);
  }
}

test(`${SEEDS} seeded airframes: clean plates, or a finding that names the number to change`, {
  timeout: 1_200_000,
}, () => {
  let clean = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const d = draftText(seededFile(seed));
    const stops = d.findings.filter((f) => f.severity === "stop");
    if (stops.length === 0) {
      clean++;
      expect(d.files.size, `seed ${seed}`).toBeGreaterThan(0);
      expectClean(d, seed);
      const checks = checkedPlates(d).filter((f) => f.severity === "stop");
      expect(
        checks.map((f) => f.message),
        `seed ${seed}`,
      ).toEqual([]);
      continue;
    }
    expect(d.files.size, `seed ${seed}`).toBe(0);
    for (const f of stops) {
      expect(f.data["parameter"], `seed ${seed}: ${f.message}`).toMatch(/^[a-zA-Z.]+$/);
      expect(f.drawing?.line, `seed ${seed}: ${f.message}`).toBeGreaterThan(0);
      expect(f.hint, `seed ${seed}: ${f.message}`).toContain("airframe.");
    }
  }
  // Most numbers that people would type make an airframe: a generator that refuses all would pass the rest.
  expect(clean / SEEDS).toBeGreaterThan(0.3);
});
