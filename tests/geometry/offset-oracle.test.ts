/** Offsets of 200 seeded regions against another library (clipper2-ts) on finely flattened input. */
import process from "node:process";
import { Clipper, EndType, JoinType } from "clipper2-ts";
import { expect, test } from "vitest";
import { flatten } from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { areaOf } from "../../src/core/geometry/region.ts";
import { lengthOf } from "../../src/core/geometry/segment.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import { sample } from "./corpus.ts";

const CHORD = 0.0005;
const DISTANCES = [1, -1, 0.3, -2.7, 3.1];

/** Area by the other library, counted from the first point: its numbers are 64-bit at 5 decimals. */
function reference(rings: readonly Contour[], d: number): number {
  const flat = rings.map((r) => flatten(r, CHORD));
  const o = flat[0]?.[0] ?? { x: 0, y: 0 };
  const paths = flat.map((path) => path.map((p) => ({ x: p.x - o.x, y: p.y - o.y })));
  const grown = Clipper.inflatePathsD(paths, d, JoinType.Round, EndType.Polygon, 2, 5, CHORD);
  return Clipper.areaPathsD(grown);
}

/** Chords take off, or add, two thirds of their bow along an arc: the reference's own error. */
function chordError(rings: readonly Contour[]): number {
  const arcs = rings.flatMap((r) => r.segments).filter((s) => s.kind === "arc");
  return CHORD * arcs.reduce((sum, s) => sum + lengthOf(s), 0);
}

const count = process.env["WEFTCUT_LONG"] === undefined ? 200 : 4000;

test(`${count} seeded regions have the same area, within 1e-4`, () => {
  for (let seed = 0; seed < count; seed++) {
    const { name, rings } = sample(seed);
    const d = DISTANCES[seed % DISTANCES.length] as number;
    const area = reference(rings, d);
    const found = offsetRings(rings, d);
    const error = chordError(rings) + chordError(found);
    const off = Math.abs(areaOf(found) - area);
    expect(off, `${name}, seed ${seed}, distance ${d}`).toBeLessThan(1e-4 * area + error);
  }
}, 120_000);
