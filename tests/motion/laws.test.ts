/** What holds for every program, and the same motion by another method. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { splitByLine } from "../../src/core/motion/by-plate.ts";
import {
  changeLength,
  changeSeconds,
  jerkSeconds,
  trapezoidSeconds,
} from "../../src/core/motion/profile.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import type { TraceMove } from "../../src/core/program/read/trace.ts";
import { arcTo, type Go, go, machine, trace, type Xyz } from "./program.ts";
import { simulate } from "./simulate.ts";

/** On a grid, as in programs: a move has a length that is to be seen, or none. */
const coordinate = fc.integer({ min: -40_000, max: 40_000 }).map((n) => n / 1000);
const feed = fc.double({ min: 60, max: 5000, noNaN: true });
const acceleration = fc.double({ min: 10, max: 600, noNaN: true });

const leg = fc.record({
  kind: fc.constantFrom("line", "line", "arc", "rapid"),
  x: coordinate,
  y: coordinate,
  z: fc.integer({ min: -6000, max: 6000 }).map((n) => n / 1000),
  radius: fc.double({ min: 0.3, max: 20, noNaN: true }),
  sweep: fc.double({ min: 0.05, max: 2 * Math.PI, noNaN: true }),
  turn: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
  left: fc.boolean(),
  feed,
});

const program = fc.array(leg, { minLength: 1, maxLength: 12 }).map((legs): TraceMove[] => {
  let at: Xyz = [0, 0, 0];
  const moves: Go[] = legs.map((l) => {
    let move: Go;
    if (l.kind === "arc") {
      const centre = [
        at[0] + l.radius * Math.cos(l.turn),
        at[1] + l.radius * Math.sin(l.turn),
      ] as const;
      move = { ...arcTo(at, centre, l.left ? l.sweep : -l.sweep, l.z / 4), feed: l.feed };
    } else {
      move = { to: [l.x, l.y, l.z], feed: l.feed, rapid: l.kind === "rapid" };
    }
    at = move.to;
    return move;
  });
  return go([0, 0, 0], moves);
});

const router = fc
  .record({
    ax: acceleration,
    ay: acceleration,
    az: acceleration,
    fx: feed,
    fy: feed,
    fz: feed,
    junctionDeviation: fc.double({ min: 0, max: 0.1, noNaN: true }),
  })
  .map((m) =>
    machine({
      acceleration: [m.ax, m.ay, m.az],
      maxFeed: [m.fx, m.fy, m.fz],
      junctionDeviation: m.junctionDeviation,
    }),
  );

const jerk = fc.option(fc.double({ min: 100, max: 50_000, noNaN: true }), { nil: undefined });

const lengthOf = (m: TraceMove): number =>
  m.arc === undefined
    ? Math.hypot(m.x1 - m.x0, m.y1 - m.y0, m.z1 - m.z0)
    : Math.hypot(m.arc.sweep * m.arc.radius, m.z1 - m.z0);

/** Roundings of a few additions. */
const HAIR = 1e-9;

describe("laws", () => {
  test("never below length ÷ feed, move by move", () => {
    fc.assert(
      fc.property(program, router, jerk, (moves, m, j) => {
        const run = timeOf(trace(moves), m, { jerk: j });
        moves.forEach((move, i) => {
          // Below a millionth of a millimetre nothing moves.
          if (move.kind !== "feed" || lengthOf(move) < 1e-6) return;
          const least = lengthOf(move) / (move.feed / 60);
          expect(run.stepSeconds[i]).toBeGreaterThanOrEqual(least * (1 - HAIR));
        });
      }),
    );
  });

  test("never above a full stop at every move", () => {
    fc.assert(
      fc.property(program, router, jerk, (moves, m, j) => {
        const whole = timeOf(trace(moves), m, { jerk: j }).seconds;
        const stops = moves.reduce(
          (sum, move) => sum + timeOf(trace([move]), m, { jerk: j }).seconds,
          0,
        );
        expect(whole).toBeLessThanOrEqual(stops * (1 + HAIR) + HAIR);
      }),
    );
  });

  test("more acceleration, more deviation, more rate, more jerk, more look-ahead: never slower", () => {
    fc.assert(
      fc.property(
        program,
        router,
        jerk,
        fc.double({ min: 1, max: 20, noNaN: true }),
        (moves, m, j, by) => {
          const t = trace(moves);
          const now = timeOf(t, m, { jerk: j, lookAhead: 3 }).seconds;
          const [x, y, z] = m.acceleration;
          const [p, q, r] = m.maxFeed;
          const better = [
            timeOf(t, { ...m, acceleration: [x * by, y * by, z * by] }, { jerk: j, lookAhead: 3 }),
            timeOf(t, { ...m, acceleration: [x, y * by, z] }, { jerk: j, lookAhead: 3 }),
            timeOf(
              t,
              { ...m, junctionDeviation: m.junctionDeviation * by },
              { jerk: j, lookAhead: 3 },
            ),
            timeOf(t, { ...m, maxFeed: [p * by, q * by, r] }, { jerk: j, lookAhead: 3 }),
            timeOf(t, m, { jerk: j === undefined ? undefined : j * by, lookAhead: 3 }),
            timeOf(t, m, { jerk: j, lookAhead: 9 }),
          ];
          for (const run of better)
            expect(run.seconds).toBeLessThanOrEqual(now * (1 + HAIR) + HAIR);
        },
      ),
    );
  });
});

describe("symmetries and sums", () => {
  test("turned by 90°, mirrored, shifted and run backwards it takes as long on equal axes", () => {
    fc.assert(
      fc.property(program, acceleration, (moves, a) => {
        const m = machine({ acceleration: [a, a, a], maxFeed: [900, 900, 900] });
        const now = timeOf(trace(moves), m).seconds;
        const turned = moves.map((move) => ({
          ...move,
          x0: 7 - move.y0,
          y0: move.x0,
          x1: 7 - move.y1,
          y1: move.x1,
          arc: move.arc && { ...move.arc, cx: 7 - move.arc.cy, cy: move.arc.cx },
        }));
        const mirrored = moves.map((move) => ({
          ...move,
          x0: -move.x0,
          x1: -move.x1,
          arc: move.arc && { ...move.arc, cx: -move.arc.cx, sweep: -move.arc.sweep },
        }));
        const back = moves
          .map((move) => ({
            ...move,
            x0: move.x1,
            y0: move.y1,
            z0: move.z1,
            x1: move.x0,
            y1: move.y0,
            z1: move.z0,
            arc: move.arc && { ...move.arc, sweep: -move.arc.sweep },
          }))
          .reverse();
        for (const other of [turned, mirrored, back]) {
          expect(timeOf(trace(other), m).seconds).toBeCloseTo(now, 6);
        }
      }),
    );
  });

  test("a line cut in two pieces takes as long as in one", () => {
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        acceleration,
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (x, y, a, at) => {
          fc.pre(Math.hypot(x, y) > 0.01);
          const m = machine({ acceleration: [a, a, a] });
          const one = timeOf(trace(go([0, 0, 0], [{ to: [x, y, 0] }])), m).seconds;
          const two = go([0, 0, 0], [{ to: [x * at, y * at, 0] }, { to: [x, y, 0] }]);
          expect(timeOf(trace(two), m).seconds).toBeCloseTo(one, 5);
        },
      ),
    );
  });
});

describe("whatever the trace", () => {
  test("the parts add up: kinds of motion, steps, stretches of lines", () => {
    fc.assert(
      fc.property(program, router, (moves, m) => {
        const t = trace([...moves, { kind: "dwell", line: 100, seconds: 2 }]);
        const run = timeOf(t, m);
        const by = Object.values(run.byMotion).reduce((a, b) => a + b, 0);
        expect(by).toBeCloseTo(run.seconds, 9);
        expect(run.stepSeconds.reduce((a, b) => a + b, 0)).toBeCloseTo(run.seconds, 9);
        const parts = splitByLine(t, run.stepSeconds, [4, 1, 9]);
        expect(parts.reduce((a, b) => a + b, 0)).toBeCloseTo(run.seconds, 9);
      }),
    );
  });

  test("nothing throws and nothing is NaN, whatever stands in a trace", () => {
    const number = fc.oneof(
      fc.double(),
      fc.constantFrom(0, -1, Number.NaN, Number.POSITIVE_INFINITY),
    );
    const step = fc.record({
      kind: fc.constantFrom("rapid" as const, "feed" as const),
      line: fc.nat(),
      x0: number,
      y0: number,
      z0: number,
      x1: number,
      y1: number,
      z1: number,
      feed: number,
      rpm: number,
      startKnown: fc.boolean(),
      arc: fc.option(fc.record({ cx: number, cy: number, radius: number, sweep: number }), {
        nil: undefined,
      }),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 8 }), jerk, (steps, j) => {
        const run = timeOf(trace(steps), machine(), { jerk: j });
        expect(run.seconds).toBeGreaterThanOrEqual(0);
        expect(run.blocks).toBe(steps.length);
      }),
    );
  });
});

describe("the same motion by dense steps", () => {
  test("within 0.5 %", () => {
    fc.assert(
      fc.property(program, router, (moves, m) => {
        const all = { lookAhead: moves.length + 1 };
        fc.pre(moves.every((move) => lengthOf(move) > 0.05));
        const planned = timeOf(trace(moves), m, all).seconds;
        expect(Math.abs(simulate(moves, m, 0.02) / planned - 1)).toBeLessThan(0.005);
      }),
      { numRuns: process.env["WEFTCUT_LONG"] === undefined ? 60 : 1000 },
    );
  });
});

describe("profiles integrate to their length", () => {
  const profile = fc.record({
    length: fc.double({ min: 0.01, max: 50, noNaN: true }),
    speed: fc.double({ min: 1, max: 100, noNaN: true }),
    acceleration,
    jerk: fc.double({ min: 100, max: 50_000, noNaN: true }),
    vIn: fc.double({ min: 0, max: 1, noNaN: true }),
    vOut: fc.double({ min: 0, max: 1, noNaN: true }),
  });

  test("the S-curve is a motion: stepped in time it covers the block and obeys its limits", () => {
    fc.assert(
      fc.property(profile, ({ length, speed, acceleration: a, jerk: j, vIn, vOut }) => {
        const [v0, v1] = [vIn * speed, vOut * speed];
        fc.pre(changeLength(v0, v1, a, j) <= length);
        const seconds = jerkSeconds({ length, speed, acceleration: a }, j, v0, v1);
        // The peak that would take this long, from the times alone; then the way by stepping jerk.
        let low = Math.max(v0, v1);
        let high = speed;
        const way = (p: number): number => stepped(v0, p, a, j) + stepped(v1, p, a, j);
        for (let i = 0; i < 30; i++) {
          const p = (low + high) / 2;
          if (way(p) <= length) low = p;
          else high = p;
        }
        const ramps = changeSeconds(low - v0, a, j) + changeSeconds(low - v1, a, j);
        const total = ramps + Math.max(0, length - way(low)) / low;
        expect(seconds).toBeCloseTo(total, 2);
        expect(seconds).toBeGreaterThanOrEqual(
          trapezoidSeconds({ length, speed, acceleration: a }, v0, v1) * (1 - HAIR),
        );
      }),
      { numRuns: 60 },
    );
  });
});

/** Way from v0 up to v1 by stepping acceleration up with the jerk, holding it, and down again. */
function stepped(v0: number, v1: number, a: number, jerk: number): number {
  const dv = v1 - v0;
  if (dv <= 0) return 0;
  const top = Math.min(a, Math.sqrt(dv * jerk));
  const up = top / jerk;
  const hold = dv / top - up;
  const n = 400;
  const total = 2 * up + hold;
  const dt = total / n;
  let v = v0;
  let s = 0;
  for (let i = 0; i < n; i++) {
    const t = (i + 0.5) * dt;
    const acc = t < up ? jerk * t : t < up + hold ? top : top - jerk * (t - up - hold);
    s += (v + (acc * dt) / 2) * dt;
    v += acc * dt;
  }
  return s;
}
