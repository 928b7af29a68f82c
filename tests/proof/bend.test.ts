/** How sharply a way of chords bends: as the arc does that they stand for; corners and long edges do not. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isMove, type TraceMove } from "../../src/core/program/read/trace.ts";
import { bendOf } from "../../src/core/proof/removal/bend.ts";

const RADIUS = 1;

function movesOf(points: readonly (readonly [number, number])[]): TraceMove[] {
  const words = points.map(([x, y]) => `X${x.toFixed(9)} Y${y.toFixed(9)}`);
  const text = ["G21", "G90", "G17", "G94", "G0 Z1", `G0 ${words[0]}`, "G1 F100 Z0"];
  const program = [...text, ...words.slice(1), "M2"].join("\n");
  return readProgram("p.nc", program).steps.filter(isMove).slice(3);
}

const bends = (moves: readonly TraceMove[]): number[] =>
  moves.map((m, i) => bendOf(moves[i - 1], m, moves[i + 1], RADIUS));

test("of an arc's chords it is the arc's radius, whichever way it turns", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 20, noNaN: true }),
      fc.integer({ min: 7, max: 200 }),
      fc.boolean(),
      (radius, n, ccw) => {
        fc.pre(2 * radius * Math.sin(Math.PI / n) < RADIUS);
        const angle = (i: number) => ((ccw ? 1 : -1) * 2 * Math.PI * i) / n;
        const points = Array.from(
          { length: n },
          (_, i) => [radius * Math.cos(angle(i)), radius * Math.sin(angle(i))] as const,
        );
        for (const b of bends(movesOf(points))) {
          // A chord is shorter than its arc.
          expect(b).toBeLessThanOrEqual(radius * (1 + 1e-4));
          expect(b).toBeGreaterThan(radius * 0.88);
        }
      },
    ),
    { numRuns: 100 },
  );
});

describe("is without end", () => {
  test.each([
    [
      "on a straight way",
      [
        [0, 0],
        [0.1, 0],
        [0.2, 0],
        [0.3, 0],
      ],
    ],
    [
      "at a corner",
      [
        [0, 0],
        [0.1, 0],
        [0.1, 0.1],
        [0, 0.1],
      ],
    ],
    [
      "on an edge longer than the cutter's radius",
      [
        [0, 0],
        [1, 0],
        [2.2, 0.2],
        [3, 0.6],
      ],
    ],
  ] as const)("%s", (_, points) => {
    expect(bends(movesOf(points))).toEqual([
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
  });
});

test("where one arc goes over into another that turns the other way, each chord bends as its own arc or more", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 5, noNaN: true }),
      fc.double({ min: 0.1, max: 5, noNaN: true }),
      (left, right) => {
        // Chords as far from their arc as the writer's, on an arc to the left and then one to the right.
        const step = (radius: number): number => 2 * Math.acos(1 - 0.002 / radius);
        const points: [number, number][] = [];
        for (let k = 8; k >= 0; k--) {
          const a = k * step(left);
          points.push([-left * Math.sin(a), left * (1 - Math.cos(a))]);
        }
        for (let k = 1; k <= 8; k++) {
          const a = k * step(right);
          points.push([right * Math.sin(a), right * (Math.cos(a) - 1)]);
        }
        for (const [i, b] of bends(movesOf(points)).entries()) {
          expect(b).toBeLessThanOrEqual((i < 8 ? left : right) * (1 + 1e-3));
        }
      },
    ),
  );
});

test("behind a corner it begins with the first chord, as in a bore that is entered from its middle", () => {
  const chords = Array.from(
    { length: 12 },
    (_, i) => [0.5 * Math.cos((i * Math.PI) / 12), 0.5 * Math.sin((i * Math.PI) / 12)] as const,
  );
  const [straight, ...round] = bends(movesOf([[0, 0], ...chords]));
  expect(straight).toBe(Number.POSITIVE_INFINITY);
  for (const b of round) expect(b).toBeCloseTo(round[3] ?? 0, 6);
});

test("nor is a corner before a very short first chord part of it, though it turns the other way", () => {
  const chords = Array.from(
    { length: 12 },
    (_, i) => [0.2 * Math.cos((i * Math.PI) / 12), 0.2 * Math.sin((i * Math.PI) / 12)] as const,
  );
  const [, ...round] = bends(movesOf([[0.6, 0], ...chords]));
  for (const b of round) expect(b).toBeCloseTo(round[3] ?? 0, 6);
});

test("two chords of a hundredth round a sharp corner are a curve", () => {
  const points = [
    [-3, 0],
    [0, 0],
    [0.01, 0.006],
    [0.01, 0.018],
    [-3, 2],
  ] as const;
  const [before, first, second, behind] = bends(movesOf(points));
  expect([before, behind]).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
  for (const b of [first, second]) expect(b).toBeLessThan(0.02);
});

test("a short move by itself between long ones rounds a corner, as sharply as it turns", () => {
  // A right angle whose corner has a radius of 0.01 mm, in one chord of 0.014 mm.
  const points = [
    [0, 0],
    [5, 0],
    [5.01, 0.01],
    [5.01, 5],
  ] as const;
  const [before, corner, after] = bends(movesOf(points));
  expect([before, after]).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
  expect(corner).toBeCloseTo((0.01 * Math.SQRT2) / (Math.PI / 4), 6);
});
