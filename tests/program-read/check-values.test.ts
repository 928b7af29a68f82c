/**
 * Values to be met by any reader of RS-274/NGC. NIST is Kramer, Proctor, Messina, NISTIR 6556 (2000).
 */
import { describe, expect, it } from "vitest";
import { degrees } from "../../src/core/geometry/trig.ts";
import type { TraceArc, TraceMove } from "../../src/core/program/read/trace.ts";
import { codes, moves, movesFrom, read, refusals, START } from "./support.ts";

interface Wanted {
  readonly to?: readonly [number, number, number];
  readonly centre?: readonly [number, number];
  readonly radius?: number;
  readonly degrees?: number;
}

function only(list: readonly TraceMove[]): TraceMove {
  expect(list).toHaveLength(1);
  return list[0] as TraceMove;
}

function check(move: TraceMove, wanted: Wanted): void {
  if (wanted.to !== undefined) {
    expect(move.x1).toBeCloseTo(wanted.to[0], 9);
    expect(move.y1).toBeCloseTo(wanted.to[1], 9);
    expect(move.z1).toBeCloseTo(wanted.to[2], 9);
  }
  const arc = move.arc as TraceArc;
  if (wanted.centre !== undefined) {
    expect(arc.cx).toBeCloseTo(wanted.centre[0], 3);
    expect(arc.cy).toBeCloseTo(wanted.centre[1], 3);
  }
  if (wanted.radius !== undefined) expect(arc.radius).toBeCloseTo(wanted.radius, 9);
  if (wanted.degrees !== undefined) expect(degrees(arc.sweep)).toBeCloseTo(wanted.degrees, 3);
}

describe("published lines", () => {
  const rows: readonly [string, readonly [number, number, number], string, Wanted][] = [
    ["NIST Table 10, straight", [0, 0, 0], "G1 X3 Y1 F20", { to: [3, 1, 0] }],
    [
      "NIST Table 10, radius form",
      [3, 1, 0],
      "G2 X0 R7.01 Z0.5 F20 Y1",
      { to: [0, 1, 0.5], centre: [1.5, 7.8476] },
    ],
    [
      "NIST 3.5.3.2, helix",
      [7, 7, 0],
      "G17 G2 X10 Y16 I3 J4 Z9 F9",
      { to: [10, 16, 9], centre: [10, 11], radius: 5 },
    ],
    [
      "NIST C.1, 270 degrees",
      [16, 2.5, 0],
      "G3 X13.5 Y0 I-2.5 F9",
      { centre: [13.5, 2.5], degrees: 270 },
    ],
    [
      "NIST C.1, full circle",
      [32.5, 0, 0],
      "G2 X32.5 J2.5 F9",
      { centre: [32.5, 2.5], degrees: -360 },
    ],
    [
      "NIST C.1, by radius (centre computed)",
      [64, 4, 0],
      "G2 X69 R4 F9",
      { centre: [66.5, 0.8775], degrees: -77.364 },
    ],
    [
      "NIST C.1, half circle",
      [79.5, 0, 0],
      "G2 J2.5 Y5 F9",
      { centre: [79.5, 2.5], degrees: -180 },
    ],
  ];
  for (const [name, at, line, wanted] of rows) {
    it(name, () => {
      check(only(movesFrom(at, line)), wanted);
    });
  }

  it("one turn of a helix is 63.0305 mm long (computed)", () => {
    const move = only(movesFrom([10, 0, 0], "G3 X10 Y0 Z-5 I-10 F9"));
    const arc = move.arc as TraceArc;
    expect(Math.hypot(arc.sweep * arc.radius, move.z1 - move.z0)).toBeCloseTo(63.0305, 4);
  });

  it("refuses a helix whose radii are 5 and 13.8924 (computed)", () => {
    const trace = read(`${START}G0 X0 Y0 Z0\nG17 G2 X10 Y16 I3 J4 Z-1 F9\nM2\n`);
    expect(codes(trace)).toEqual(["program-arc-radius"]);
    expect(trace.findings[0]?.data["start"]).toBeCloseTo(5, 9);
    expect(trace.findings[0]?.data["end"]).toBeCloseTo(13.8924, 4);
    expect(trace.findings[0]?.program).toEqual({ file: "test.nc", line: 3 });
  });

  it("takes radii 0.0019 mm apart and refuses 0.0021 (NIST 3.5.3.2)", () => {
    expect(refusals("G3 X-5.0019 Y0 I0 J0 R0")).not.toEqual([]);
    expect(refusals("G3 X10.0019 Y0 I5 F9")).toEqual([]);
    expect(refusals("G3 X10.0021 Y0 I5 F9")).toEqual(["program-arc-radius"]);
    // 0.0002 in is 0.00508 mm: an inch program may be wider of the mark.
    expect(refusals("G20 G3 X1.00019 Y0 I0.5 F9")).toEqual([]);
    expect(refusals("G20 G3 X1.00021 Y0 I0.5 F9")).toEqual(["program-arc-radius"]);
  });

  it("G92 at X4: G92 X7 shifts by −3, then G92 X9 by −5 (NIST 3.5.18)", () => {
    const list = movesFrom([4, 0, 5], "G92 X7\nG0 X0\nG0 X7\nG92 X9\nG0 X0");
    expect(list.map((m) => m.x1)).toEqual([-3, 4, -5]);
  });

  it("G93 F2 moves 10 mm in half a minute (NIST 3.5.19)", () => {
    expect(only(movesFrom([0, 0, 0], "G93 G1 X10 F2")).feed).toBeCloseTo(20, 12);
  });

  it("G81 with G98 (NIST 3.5.16.2, example 1)", () => {
    const list = movesFrom([1, 2, 3], "G90 G81 G98 X4 Y5 Z1.5 R2.8 F9");
    expect(list.map((m) => [m.kind, m.x1, m.y1, m.z1])).toEqual([
      ["rapid", 4, 5, 3],
      ["rapid", 4, 5, 2.8],
      ["feed", 4, 5, 1.5],
      ["rapid", 4, 5, 3],
    ]);
  });

  it("G81 in G91, three times (NIST 3.5.16.2, example 2, from memory)", () => {
    const list = movesFrom([1, 2, 3], "G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3 F9");
    expect(list.map((m) => m.kind)).toEqual([
      ...["rapid", "rapid", "feed", "rapid", "rapid", "feed", "rapid", "rapid", "feed", "rapid"],
    ]);
    const bottoms = list.filter((m) => m.kind === "feed");
    expect(bottoms.map((m) => [m.x1, m.y1])).toEqual([
      [5, 7],
      [9, 12],
      [13, 17],
    ]);
    for (const m of bottoms) {
      expect(m.z0).toBeCloseTo(4.8, 12);
      expect(m.z1).toBeCloseTo(4.2, 12);
    }
  });
});

describe("words and blanks", () => {
  it("blanks and case mean nothing (NIST 3.3.5)", () => {
    const list = movesFrom([0, 0, 0], "g0x +0. 12 34y 7");
    expect([only(list).x1, only(list).y1]).toEqual([0.1234, 7]);
  });

  it("every decimal number is the nearest double", () => {
    for (const word of ["0.1", "-.7", "12.3456", "+5.", "00012.000000000000010", "299.9999"]) {
      expect(only(movesFrom([500, 0, 0], `G0 X${word}`)).x1).toBe(Number(word));
    }
  });

  it("F on the line of G20 is still read in mm (NIST Table 8)", () => {
    const list = movesFrom([0, 0, 0], "G20 F100 G1 X1\nF10 X2");
    expect(list.map((m) => m.feed)).toEqual([100, 254]);
    expect(list.map((m) => m.x1)).toEqual([25.4, 50.8]);
  });

  it("M5 beside a motion stops the spindle first (NIST Table 8)", () => {
    const trace = read(`${START}S10000 M3\nG0 X0 Y0 Z5\nM5 G1 X5 F100\nM2\n`);
    expect(moves(trace).map((m) => m.rpm)).toEqual([10000, 0]);
  });

  it("I and J are increments in G90 and in G91 alike (NIST 3.5.17)", () => {
    const absolute = only(movesFrom([10, 10, 0], "G2 X12 Y12 I2 F9"));
    const incremental = only(movesFrom([10, 10, 0], "G91 G2 X2 Y2 I2 F9"));
    expect(incremental).toEqual(absolute);
  });
});

describe("state", () => {
  it("knows the start only once every axis has been named", () => {
    const trace = read(`${START}G0 Z5\nG0 X1 Y2\nG1 Z0 F9\nM2\n`);
    expect(moves(trace).map((m) => m.unknown)).toEqual([7, 3, 0]);
    expect(moves(trace).map((m) => m.startKnown)).toEqual([false, false, true]);
    expect([moves(trace)[1]?.x0, moves(trace)[1]?.y0]).toEqual([1, 2]);
  });

  it("says what the program states before its first motion", () => {
    expect(read(`${START}M2`).states).toEqual({
      units: true,
      absolute: true,
      plane: true,
      feedMode: true,
    });
    expect(read("G0 X1\nG21 G90 G17 G94\nM2").states.units).toBe(false);
  });

  it("dwells in seconds, or in milliseconds where the controller counts so", () => {
    const text = "G4 P2.5\nM2\n";
    expect(read(text).steps[0]).toEqual({ kind: "dwell", line: 1, seconds: 2.5 });
    expect(read(text, { dwell: "milliseconds" }).steps[0]).toEqual({
      kind: "dwell",
      line: 1,
      seconds: 0.0025,
    });
  });

  it("a new S while turning is a new spindle event", () => {
    const trace = read("S8000 M3\nS9000\nS9000\nM5\nS1\nM2\n");
    expect(trace.steps.map((s) => [s.kind, "rpm" in s ? s.rpm : 0])).toEqual([
      ["spindle-on", 8000],
      ["spindle-on", 9000],
      ["spindle-off", 0],
      ["end", 0],
    ]);
  });

  it("pecks down with G83 and comes back to R in between", () => {
    const list = movesFrom([0, 0, 5], "G83 X1 Y1 Z-2 R1 Q1.2 F50");
    const feeds = list.filter((m) => m.kind === "feed");
    expect(feeds.map((m) => m.z1)).toEqual([1 - 1.2, 1 - 2.4, -2]);
    expect(list.at(-1)?.z1).toBe(5);
  });
});
