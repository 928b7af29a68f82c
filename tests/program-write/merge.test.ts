/**
 * Moves that are one move are written as one, moves that are too many for the controller go slower, and rounding
 * never breaks an arc: laws over seeded ways, judged from the moves and from what is read back of the text.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MERGE } from "../../src/core/geometry/tolerance.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed, type TraceMove } from "../../src/core/program/read/trace.ts";
import {
  feedMove,
  feedMoves,
  linesFor,
  rapidXY,
  rapidZ,
} from "../../src/core/program/write/lines.ts";
import { merged } from "../../src/core/program/write/merge.ts";
import { READY } from "../../src/core/program/write/pace.ts";
import type { CutMove } from "../../src/core/toolpath/cut.ts";
import { MACHINE } from "../toolpath/support.ts";

const START = { to: { x: 0, y: 0 }, z: 0 };

/** A piece of the true way: how long or how far round, how much it turns, how much deeper, in how many parts. */
interface Piece {
  readonly size: number;
  /** 0: straight on. */
  readonly radius: number;
  readonly turn: number;
  readonly fall: number;
  readonly parts: readonly number[];
}

const piece: fc.Arbitrary<Piece> = fc.record({
  // No part so short that the corner before it would be within the tolerance.
  size: fc.double({ min: 1, max: 3, noNaN: true }),
  radius: fc.oneof(
    fc.constant(0),
    fc.double({ min: 0.3, max: 40, noNaN: true }),
    fc.double({ min: -40, max: -0.3, noNaN: true }),
  ),
  turn: fc.double({ min: 0.3, max: 1.5, noNaN: true }),
  fall: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 1, noNaN: true })),
  parts: fc.array(fc.double({ min: 0.3, max: 1, noNaN: true }), { minLength: 1, maxLength: 6 }),
});

interface Way {
  /** Whole, and cut into parts. */
  readonly whole: CutMove[];
  readonly parts: CutMove[];
}

/** Piece after piece, with a corner between, so that no two pieces are one. */
function wayOf(pieces: readonly Piece[], turned: number, mirrored: boolean): Way {
  let at = { x: 0, y: 0 };
  let z = 0;
  let heading = turned;
  const hand = mirrored ? -1 : 1;
  const way: Way = { whole: [], parts: [] };
  for (const { size, radius, turn, fall, parts } of pieces) {
    heading += hand * turn;
    // Half a turn at most.
    const length = radius === 0 ? size : Math.min(size, Math.PI * 0.999) * Math.abs(radius);
    const sum = parts.reduce((a, b) => a + b, 0);
    const from = at;
    const centre = {
      x: from.x - hand * radius * Math.sin(heading),
      y: from.y + hand * radius * Math.cos(heading),
    };
    const sign = Math.sign(radius) * hand;
    const move = (t0: number, t1: number): CutMove => {
      const angle = (length / Math.abs(radius || 1)) * sign;
      const place = (t: number) =>
        radius === 0
          ? {
              x: from.x + Math.cos(heading) * length * t,
              y: from.y + Math.sin(heading) * length * t,
            }
          : turnedAbout(centre, from, angle * t);
      const base = { to: place(t1), z: z - fall * t1, feed: 700 };
      return radius === 0 ? base : { ...base, arc: { centre, sweep: angle * (t1 - t0) } };
    };
    let done = 0;
    for (const p of parts) {
      way.parts.push(move(done / sum, (done + p) / sum));
      done += p;
    }
    const whole = move(0, 1);
    way.whole.push(whole);
    if (radius !== 0) heading += (length / Math.abs(radius)) * sign;
    at = whole.to;
    z -= fall;
  }
  return way;
}

function turnedAbout(c: { x: number; y: number }, p: { x: number; y: number }, a: number) {
  const [dx, dy] = [p.x - c.x, p.y - c.y];
  return {
    x: c.x + dx * Math.cos(a) - dy * Math.sin(a),
    y: c.y + dx * Math.sin(a) + dy * Math.cos(a),
  };
}

const ways = fc.array(piece, { minLength: 1, maxLength: 8 });
const turns = fc.double({ min: -3, max: 3, noNaN: true });

test("a way that was cut into parts comes out whole, and a whole one stays as it is", () => {
  fc.assert(
    fc.property(ways, turns, fc.boolean(), (pieces, turned, mirrored) => {
      const { whole, parts } = wayOf(pieces, turned, mirrored);
      const one = merged(START, parts);
      expect(one.length).toBe(whole.length);
      for (const [i, m] of one.entries()) {
        const w = whole[i] as CutMove;
        expect(Math.hypot(m.to.x - w.to.x, m.to.y - w.to.y, m.z - w.z)).toBeLessThan(1e-9);
        expect(m.arc?.sweep ?? 0).toBeCloseTo(w.arc?.sweep ?? 0, 8);
      }
      expect(merged(START, whole)).toEqual(whole);
    }),
    { numRuns: 200 },
  );
});

test("other feeds, a corner, a step in Z, a way back, a whole turn: not merged", () => {
  const line = (x: number, y: number, z = 0, feed = 700): CutMove => ({ to: { x, y }, z, feed });
  const half = (x: number, sweep: number): CutMove => ({
    to: { x, y: 0 },
    z: 0,
    feed: 700,
    arc: { centre: { x: 1, y: 0 }, sweep },
  });
  const apart: readonly (readonly CutMove[])[] = [
    [line(1, 0), line(2, 0, 0, 600)],
    [line(1, 0.0022), line(2, 0)],
    [line(1, 0), line(2, 0, -0.01)],
    [line(2, 0), line(1, 0)],
    [line(2, 0), line(0, 0)],
    [half(2, Math.PI), half(0, Math.PI)],
    [half(2, Math.PI), half(0, -Math.PI)],
    [half(2, Math.PI), line(2, 1)],
  ];
  for (const moves of apart) expect(merged(START, moves)).toEqual(moves);
  expect(merged(START, [line(1, 0.0009), line(2, 0)]).length).toBe(1);
});

/** Distance of a place from the way, by places along it 0.2 µm of bow apart or nearer. */
function offLine(p: CutMove["to"], way: readonly { x: number; y: number }[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < way.length; i++) {
    const [a, b] = [way[i - 1] as CutMove["to"], way[i] as CutMove["to"]];
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const t = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy));
  }
  return least;
}

test("a shaky line, and facets of a wide arc, stay within the tolerance, with fewer moves", () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.double({ min: 0.01, max: 0.4, noNaN: true }),
          fc.double({ min: -1, max: 1, noNaN: true }),
        ),
        {
          minLength: 30,
          maxLength: 90,
        },
      ),
      fc.double({ min: 200, max: 2000, noNaN: true }),
      (steps, radius) => {
        let x = 0;
        const moves = steps.map(([dx, shake]): CutMove => {
          x += dx;
          return { to: { x, y: (x * x) / (2 * radius) + shake * 4e-4 }, z: 0, feed: 700 };
        });
        const one = merged(START, moves);
        const way = [START.to, ...one.map((m) => m.to)];
        for (const m of moves) expect(offLine(m.to, way)).toBeLessThanOrEqual(MERGE + 1e-12);
        expect(one.length).toBeLessThan(moves.length);
        expect(one.at(-1)?.to).toEqual(moves.at(-1)?.to);
      },
    ),
    { numRuns: 100 },
  );
});

function written(moves: readonly CutMove[], machine = MACHINE) {
  const l = linesFor(machine, { x: 0, y: 0, z: 0 });
  l.text.push("G21", "G90", "G17", "G94", "M3 S9000");
  rapidZ(l, 5);
  rapidXY(l, START.to);
  rapidZ(l, 0);
  feedMoves(l, START, moves);
  l.text.push("M2");
  const trace = readProgram("p.nc", `${l.text.join("\n")}\n`);
  return { trace, feeds: trace.steps.filter(isFeed), slowed: l.slowed };
}

const secondsOf = (m: TraceMove): number => {
  const flat =
    m.arc === undefined
      ? Math.hypot(m.x1 - m.x0, m.y1 - m.y0)
      : Math.abs(m.arc.sweep) * m.arc.radius;
  return (Math.hypot(flat, m.z1 - m.z0) * 60) / m.feed;
};

describe("block rate, arcs on", () => {
  const zigzag = (n: number, size: number): CutMove[] =>
    Array.from({ length: n }, (_, i) => ({
      to: { x: (i + 1) * size, y: i % 2 === 0 ? size : 0 },
      z: 0,
      feed: 3000,
    }));

  test("is held over as many blocks as a controller has ready, and what is slowed is counted", () => {
    for (const size of [0.02, 0.05, 0.1, 0.2]) {
      const { feeds, slowed } = written(zigzag(200, size));
      const seconds = feeds.map(secondsOf);
      for (let i = READY; i <= seconds.length; i++) {
        const sum = seconds.slice(i - READY, i).reduce((a, b) => a + b, 0);
        expect(READY / sum).toBeLessThanOrEqual(MACHINE.blocksPerSecond * 1.002);
      }
      // 250 blocks a second of a zigzag's √2 · size at 50 mm/s.
      const tooFast = Math.SQRT2 * size < 50 / MACHINE.blocksPerSecond;
      expect(slowed.blocks > 0).toBe(tooFast);
    }
  });

  test("one short move among long ones keeps its feed", () => {
    const moves = [...zigzag(30, 5), { to: { x: 150.01, y: 0 }, z: 0, feed: 3000 }];
    const more = zigzag(30, 5).map((m) => ({ ...m, to: { x: m.to.x + 150.01, y: m.to.y } }));
    const { feeds, slowed } = written([...moves, ...more]);
    expect(slowed.blocks).toBe(0);
    expect(feeds.every((m) => m.feed === 3000)).toBe(true);
  });
});

const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const seededArc = fc.record({
  x: double(-300, 300),
  y: double(-300, 300),
  radius: fc.oneof(double(0.05, 5), double(5, 500)),
  angle: double(-Math.PI, Math.PI),
  turn: fc.oneof(
    double(1e-7, 0.01),
    double(0.01, 2 * Math.PI - 1e-3),
    double(2 * Math.PI - 0.01, 2 * Math.PI),
    fc.constant(2 * Math.PI),
  ),
  ccw: fc.boolean(),
  fall: fc.oneof(fc.constant(0), double(0, 3)),
});

describe.each([2, 3, 4, 5])("arcs at %d decimals", (decimals) => {
  const unit = 10 ** -decimals;

  test("rounding breaks none: what is read back has the same ends, turns the same way, and strays by rounding", () => {
    fc.assert(
      fc.property(seededArc, ({ x, y, radius, angle, turn, ccw, fall }) => {
        const sweep = ccw ? turn : -turn;
        const centre = { x, y };
        const on = (a: number) => ({
          x: x + radius * Math.cos(a),
          y: y + radius * Math.sin(a),
        });
        const l = linesFor({ ...MACHINE, decimals }, { x: 0, y: 0, z: 0 });
        l.text.push("G21", "G90", "G17", "G94", "M3 S9000");
        rapidZ(l, 5);
        rapidXY(l, on(angle));
        rapidZ(l, 0);
        feedMove(l, { to: on(angle + sweep), z: -fall, feed: 500, arc: { centre, sweep } });
        l.text.push("M5", "M2");
        const trace = readProgram("p.nc", `${l.text.join("\n")}\n`);
        expect(trace.findings).toEqual([]);
        const feeds = trace.steps.filter(isFeed);
        const end = on(angle + sweep);
        const last = feeds.at(-1);
        if (last !== undefined) {
          expect(Math.abs(last.x1 - end.x)).toBeLessThan(unit * 0.51 + 1e-9);
          expect(Math.abs(last.y1 - end.y)).toBeLessThan(unit * 0.51 + 1e-9);
        }
        const turned = feeds.reduce((sum, m) => sum + turnOf(m, centre), 0);
        // Ends are rounded each way, and an arc of a few units may become its chord.
        expect(Math.abs(turned - sweep) * radius).toBeLessThan(6 * unit);
        for (const m of feeds.filter((f) => f.arc !== undefined)) {
          // Of a shallow arc the centre is far better known along it than across.
          const middle = middleOf(m);
          const off = Math.abs(Math.hypot(middle[0] - x, middle[1] - y) - radius);
          expect(off).toBeLessThan(4 * unit + 0.002);
        }
      }),
      { numRuns: 500 },
    );
  });
});

/** Signed angle that a move goes round a place. */
function turnOf(m: TraceMove, c: { x: number; y: number }): number {
  if (m.arc !== undefined && Math.abs(m.arc.sweep) > 6.2831) return m.arc.sweep;
  const a = Math.atan2(m.y0 - c.y, m.x0 - c.x);
  const b = Math.atan2(m.y1 - c.y, m.x1 - c.x);
  const turn = b - a;
  if (m.arc === undefined) return Math.atan2(Math.sin(turn), Math.cos(turn));
  const whole = 2 * Math.PI;
  const positive = ((turn % whole) + whole) % whole;
  return m.arc.sweep > 0 ? positive : positive - whole;
}

function middleOf(m: TraceMove): readonly [number, number] {
  const arc = m.arc as NonNullable<TraceMove["arc"]>;
  const a = Math.atan2(m.y0 - arc.cy, m.x0 - arc.cx) + arc.sweep / 2;
  return [arc.cx + Math.cos(a) * arc.radius, arc.cy + Math.sin(a) * arc.radius];
}
