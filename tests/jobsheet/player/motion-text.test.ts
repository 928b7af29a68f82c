/** A trace written as text and read again is the same motion, to a micrometre and a tenth of a millisecond. */
import { SourceMap } from "node:module";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decodeMotion } from "../../../src/core/jobsheet/motion/decode.ts";
import { EVENTS, encodeMotion, KIND } from "../../../src/core/jobsheet/motion/encode.ts";
import { takeCount, takeSigned } from "../../../src/core/jobsheet/motion/vlq.ts";
import {
  newWriter,
  putCount,
  putSigned,
  writtenText,
} from "../../../src/core/jobsheet/motion/vlq-write.ts";
import { timeOf } from "../../../src/core/motion/time.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import type { TraceMove, TraceStep } from "../../../src/core/program/read/trace.ts";
import { machine, trace } from "../../motion/program.ts";
import { longProgram } from "./long-program.ts";

function textOf(put: typeof putCount, values: readonly number[]): string {
  const into = newWriter();
  for (const value of values) put(into, value);
  return writtenText(into);
}

describe("numbers as text", () => {
  test("Node's reader of source maps (ECMA-426) takes them for the same", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -(2 ** 26), max: 2 ** 26 }), { minLength: 1 }),
        (values) => {
          let last = 0;
          const segments = values.map((value, i) => {
            const delta = value - last;
            last = value;
            // Generated column, source, line, column: each the difference from the last segment's.
            return textOf(putSigned, [i === 0 ? 0 : 1, 0, 0, delta]);
          });
          const payload = {
            version: 3,
            file: "",
            sources: ["a"],
            names: [],
            mappings: segments.join(),
          };
          // biome-ignore lint/suspicious/noExplicitAny: Node's types want fields that its reader does not.
          const map = new SourceMap(payload as any);
          const read = values.map((_, i) => map.findEntry(0, i));
          expect(read.map((e) => ("originalColumn" in e ? e.originalColumn : undefined))).toEqual(
            values,
          );
        },
      ),
    );
  });

  test("are read back, up to 2⁵²", () => {
    const most = 2 ** 52 - 1;
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -most, max: most })), (values) => {
        const signed = { text: textOf(putSigned, values), at: 0 };
        expect(values.map(() => takeSigned(signed))).toEqual(values.map((v) => v + 0));
        const counts = { text: textOf(putCount, values.map(Math.abs)), at: 0 };
        expect(values.map(() => takeCount(counts))).toEqual(values.map(Math.abs));
        expect(signed.at).toBe(signed.text.length);
      }),
    );
  });
});

const place = fc.double({ min: -2000, max: 2000, noNaN: true });
const seconds = fc.double({ min: 0, max: 100, noNaN: true });

interface Wish {
  readonly kind: "rapid" | "feed" | "arc" | "dwell" | "event";
  readonly at: readonly [number, number, number];
  readonly line: number;
  readonly feed: number;
  readonly sweep: number;
  readonly jumps: boolean;
  readonly event: number;
  readonly seconds: number;
}

const wish: fc.Arbitrary<Wish> = fc.record({
  kind: fc.constantFrom("rapid", "feed", "arc", "dwell", "event"),
  at: fc.tuple(place, place, place),
  line: fc.integer({ min: 0, max: 3 }),
  feed: fc.constantFrom(120, 736, 736, 93.5),
  sweep: fc.oneof(
    fc.constantFrom(2 * Math.PI, -2 * Math.PI, Math.PI, -Math.PI),
    fc.double({ min: 1e-3, max: 2 * Math.PI, noNaN: true }),
    fc.double({ min: -2 * Math.PI, max: -1e-3, noNaN: true }),
  ),
  jumps: fc.boolean(),
  event: fc.integer({ min: 0, max: EVENTS.length - 1 }),
  seconds,
});

/** Steps that follow each other, and start elsewhere where they are told to. */
function stepsOf(wishes: readonly Wish[]): TraceStep[] {
  let [x, y, z] = [0, 0, 0];
  let line = 1;
  return wishes.map((w): TraceStep => {
    line += w.line;
    if (w.kind === "dwell") return { kind: "dwell", line, seconds: w.seconds };
    if (w.kind === "event") {
      return { kind: EVENTS[w.event] as "stop", line, rpm: w.event === 0 ? 19100 : 0 };
    }
    if (w.jumps) [x, y, z] = [x + 1.25, y - 3.5, z + 0.001];
    const start = { x0: x, y0: y, z0: z };
    let arc: TraceMove["arc"];
    if (w.kind === "arc") {
      const radius = 0.5 + Math.abs(w.at[0]) / 10;
      const from = w.at[1];
      arc = {
        cx: x - radius * Math.cos(from),
        cy: y - radius * Math.sin(from),
        radius,
        sweep: w.sweep,
      };
      [x, y] = [
        arc.cx + radius * Math.cos(from + w.sweep),
        arc.cy + radius * Math.sin(from + w.sweep),
      ];
      if (Math.abs(w.sweep) === 2 * Math.PI) [x, y] = [start.x0, start.y0];
    } else [x, y, z] = w.at;
    return {
      kind: w.kind === "rapid" ? "rapid" : "feed",
      line,
      ...start,
      x1: x,
      y1: y,
      z1: z,
      arc,
      feed: w.kind === "rapid" ? 0 : w.feed,
      rpm: 19100,
      startKnown: true,
      unknown: w.jumps ? 2 : 0,
    };
  });
}

describe("motion", () => {
  test("is the same after writing and reading", () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 60 }), (wishes) => {
        const steps = stepsOf(wishes);
        const times = wishes.map((w) => w.seconds);
        const m = decodeMotion(encodeMotion(trace(steps), times));
        expect(m.count).toBe(steps.length);
        let clock = 0;
        for (const [i, step] of steps.entries()) {
          clock += times[i] ?? 0;
          expect(m.line[i]).toBe(step.line);
          expect(Math.abs((m.end[i] ?? 0) - clock)).toBeLessThan(0.6e-4);
          expectStep(m, i, step);
        }
      }),
    );
  });

  function expectStep(m: ReturnType<typeof decodeMotion>, i: number, step: TraceStep): void {
    if (step.kind === "dwell") expect(m.kind[i]).toBe(KIND["dwell"]);
    else if (step.kind !== "rapid" && step.kind !== "feed") {
      expect(EVENTS[m.event[i] ?? -1]).toBe(step.kind);
      expect(m.rpm[i]).toBe(step.rpm);
    } else {
      expect(m.kind[i]).toBe(KIND[step.kind]);
      for (const axis of ["x0", "y0", "z0", "x1", "y1", "z1"] as const) {
        expect(Math.abs((m[axis][i] ?? 0) - step[axis])).toBeLessThan(0.51e-3);
      }
      expect(m.feed[i]).toBe(step.feed);
      expect(m.rpm[i]).toBe(step.rpm);
      expect(m.unknown[i]).toBe(step.unknown === 0 ? 0 : 1);
      const { arc } = step;
      if (arc === undefined) expect(m.sweep[i]).toBe(0);
      // Ends and centre are each half a micrometre off at most, each way.
      else expect(Math.abs((m.sweep[i] ?? 0) - arc.sweep)).toBeLessThan(0.004 / arc.radius);
    }
  }

  test("of a program ends when and where the program does", () => {
    const read = readProgram("long.nc", longProgram(2000));
    const time = timeOf(read, machine());
    const m = decodeMotion(encodeMotion(read, time.stepSeconds));
    expect(read.findings).toEqual([]);
    expect(m.count).toBe(read.steps.length);
    expect(m.end[m.count - 1]).toBeCloseTo(time.seconds, 4);
    expect(m.line[m.count - 1]).toBe(read.steps.at(-1)?.line);
  });

  test("a usual block takes few characters", () => {
    const blocks = 5000;
    const read = readProgram("long.nc", longProgram(blocks));
    const text = encodeMotion(read, timeOf(read, machine()).stepSeconds);
    expect(text.length / blocks).toBeLessThan(17);
    expect(text).toMatch(/^[A-Za-z0-9+/]+$/);
  });

  test("of any text is some motion, and never an exception", () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom(..."ABgZ9+/8") })),
        (text) => {
          const m = decodeMotion(text);
          expect(m.count).toBeLessThanOrEqual(text.length);
          expect(m.end).toHaveLength(m.count);
        },
      ),
    );
  });

  test("of places that are no numbers is at nought", () => {
    const step = {
      ...(stepsOf([
        {
          kind: "feed",
          at: [1, 2, 3],
          line: 1,
          feed: 1,
          sweep: 1,
          jumps: false,
          event: 0,
          seconds: 1,
        },
      ])[0] as TraceMove),
    };
    const m = decodeMotion(
      encodeMotion(trace([{ ...step, x1: Number.NaN, y1: Infinity, z1: 1e300 }]), [1]),
    );
    expect([m.x1[0], m.y1[0], m.z1[0]]).toEqual([0, 0, 0]);
  });
});
