/**
 * The demo's sweep at the underside and just above the tabs, by another polygon library (clipper2-ts) from
 * the programs' moves: its area is that of the proof's lines and arcs within 0.02 mm².
 */
import process from "node:process";
import { Clipper, FillRule, type Path64, type Paths64 } from "clipper2-ts";
import { describe, expect, test } from "vitest";
import type { TraceMove } from "../../src/core/program/read/trace.ts";
import type { ProofInput } from "../../src/core/proof/proof.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { levelOf, newLevels } from "../../src/core/proof/removal/level.ts";
import { strokesOf } from "../../src/core/proof/removal/stroke.ts";
import { exactArea } from "./support/area.ts";
import { movesOf } from "./support/oracle.ts";
import { demoJobs, failuresOf, inputOf, type SheetJob } from "./support/planned.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** Units a millimetre, and chords of a whole turn. */
const SCALE = 1e5;
const CHORDS = 96;

type XY = readonly [number, number];

const path = (points: readonly XY[]): Path64 =>
  points.map(([x, y]) => ({ x: Math.round(x * SCALE), y: Math.round(y * SCALE) }));

/** Chords at this many times the radius hold the area of the arc. */
function swollen(step: number): number {
  return Math.sqrt(step / Math.sin(step));
}

function ring(x: number, y: number, radius: number): XY[] {
  const step = (2 * Math.PI) / CHORDS;
  const r = radius * swollen(step);
  return Array.from({ length: CHORDS }, (_, i) => [
    x + r * Math.cos(step * (i + 0.5)),
    y + r * Math.sin(step * (i + 0.5)),
  ]);
}

/** The move's part at or below a depth, from and to as shares of it. */
function partBelow(m: TraceMove, z: number): readonly [number, number] | undefined {
  const limit = z + 1e-6;
  if (m.z0 <= limit && m.z1 <= limit) return [0, 1];
  if (m.z0 > limit && m.z1 > limit) return undefined;
  const t = (limit - m.z0) / (m.z1 - m.z0);
  return m.z0 <= limit ? [0, t] : [t, 1];
}

function polygonsOf(m: TraceMove, z: number, radius: number): Paths64 {
  const part = partBelow(m, z);
  if (part === undefined) return [];
  const [t0, t1] = part;
  const { arc } = m;
  if (arc === undefined) {
    const at = (t: number): XY => [m.x0 + (m.x1 - m.x0) * t, m.y0 + (m.y1 - m.y0) * t];
    const [[ax, ay], [bx, by]] = [at(t0), at(t1)];
    const length = Math.hypot(bx - ax, by - ay);
    const discs = [path(ring(ax, ay, radius)), path(ring(bx, by, radius))];
    if (length < 1e-9) return discs.slice(1);
    const [nx, ny] = [(-(by - ay) / length) * radius, ((bx - ax) / length) * radius];
    return [
      ...discs,
      path([
        [ax - nx, ay - ny],
        [bx - nx, by - ny],
        [bx + nx, by + ny],
        [ax + nx, ay + ny],
      ]),
    ];
  }
  const a0 = Math.atan2(m.y0 - arc.cy, m.x0 - arc.cx) + arc.sweep * t0;
  const turn = arc.sweep * (t1 - t0);
  const n = Math.max(1, Math.ceil((Math.abs(turn) / (2 * Math.PI)) * CHORDS * 2));
  const swell = swollen(Math.abs(turn) / n);
  const at = (r: number, i: number): XY => {
    const a = a0 + (turn * i) / n;
    return [arc.cx + r * Math.cos(a), arc.cy + r * Math.sin(a)];
  };
  const discs = [0, n].map((i) => path(ring(...at(arc.radius, i), radius)));
  const inner = Math.max(0, arc.radius - radius);
  // Piece by piece, so that a whole turn is no ring with a seam.
  const pieces = Array.from({ length: n }, (_, i) =>
    path([
      at(inner * swell, i),
      at((arc.radius + radius) * swell, i),
      at((arc.radius + radius) * swell, i + 1),
      at(inner * swell, i + 1),
    ]),
  );
  return [...discs, ...pieces].map((p) => (Clipper.area(p) < 0 ? [...p].reverse() : p));
}

function secondArea(input: ProofInput, z: number): number {
  const polygons = input.programs.flatMap(({ trace, cutter }) => {
    const seen = new Set<string>();
    return movesOf(trace).flatMap((m) => {
      // Pass after pass runs the same way.
      const key = JSON.stringify([m.x0, m.y0, m.x1, m.y1, m.arc, partBelow(m, z)]);
      if (seen.has(key)) return [];
      seen.add(key);
      return polygonsOf(m, z, cutter.effectiveDiameter / 2);
    });
  });
  return Clipper.areaPaths(united(polygons)) / SCALE ** 2;
}

/** Halves first: one union of everything looks at every crossing of pass with pass. */
function united(polygons: Paths64): Paths64 {
  const n = polygons.length;
  if (n <= 40) return Clipper.union(polygons, FillRule.NonZero);
  const half = Math.floor(n / 2);
  const halves = [...united(polygons.slice(0, half)), ...united(polygons.slice(half))];
  return Clipper.union(halves, FillRule.NonZero);
}

const jobs = LONG ? demoJobs() : demoJobs().slice(0, 1);

describe.each(jobs)("$name", (job: SheetJob) => {
  const input = inputOf(job);
  const sheet = input.sheets[0];
  const thickness = sheet?.thickness ?? 0;
  const tallest = Math.max(0, ...(sheet?.tabs ?? []).map((t) => t.height));

  test("proves", () => {
    expect(failuresOf(prove(input).value)).toEqual([]);
  });

  const levels: readonly (readonly [string, number])[] = [
    ["the underside", -thickness],
    ["just above the tabs", -thickness + tallest + 0.02],
  ];
  test.each(LONG ? levels : levels.slice(0, 1))("at %s", { timeout: 120_000 }, (_, z) => {
    if (sheet === undefined) throw new Error("no sheet");
    const zero = { ...sheet, programZero: { ...sheet.programZero, x: 0, y: 0 } };
    const strokes = input.programs.flatMap((p, i) => strokesOf(p, i, zero));
    const own = exactArea(levelOf(newLevels(strokes), z).strokes);
    const other = secondArea(input, z - sheet.programZero.z);
    expect(own).toBeGreaterThan(500);
    expect(Math.abs(own - other)).toBeLessThan(0.02);
  });
});
