/** Programs as text, read and timed: what `time` prints. */
import { expect, test } from "vitest";
import { plateStarts, splitByLine } from "../../src/core/motion/by-plate.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import { timeJson } from "../../src/core/motion/time-json.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { machine } from "./program.ts";

const SQUARE = `(square of 100 mm)
G21
G90
G17
G94
G0 X0 Y0
S18000 M3
G4 P3
G1 X100 Y0 F3000
X100 Y100
X0 Y100
X0 Y0
M5
M2
`;

test("the square of 100 mm: 8.35976 s and its dwell; the first move from nowhere is not counted", () => {
  const trace = readProgram("square.nc", SQUARE);
  const time = timeOf(trace, machine());
  expect(time.seconds).toBeCloseTo(8.35976 + 3, 5);
  expect(time.dwellSeconds).toBe(3);
  expect(time.cutMetres).toBeCloseTo(0.4, 12);
  expect(time.rapidMetres).toBe(0);
  expect(time.findings).toEqual([]);
  const json = timeJson("square.nc", time);
  expect(json).toMatchObject({ file: "square.nc", rapidSeconds: 0, blocks: time.blocks });
});

test("a program in inches takes as long", () => {
  const inch = SQUARE.replace("G21", "G20")
    .replace("F3000", "F118.1102362205")
    .replaceAll("100", "3.9370078740");
  const time = timeOf(readProgram("inch.nc", inch), machine());
  expect(time.seconds).toBeCloseTo(11.35976, 4);
});

test("split at lines: before the cut, two sides, two sides", () => {
  const trace = readProgram("square.nc", SQUARE);
  const time = timeOf(trace, machine());
  const [head, one, two] = splitByLine(trace, time.stepSeconds, [1, 9, 11]);
  expect(head).toBeCloseTo(3, 9);
  expect(one).toBeCloseTo(8.35976 / 2, 4);
  expect(two).toBeCloseTo(8.35976 / 2, 4);
});

test("a move without feed is told with its line", () => {
  const time = timeOf(
    {
      ...readProgram("x.nc", "G21\nG90\nM2\n"),
      steps: [
        {
          kind: "feed",
          line: 7,
          x0: 0,
          y0: 0,
          z0: 0,
          x1: 5,
          y1: 0,
          z1: 0,
          arc: undefined,
          feed: 0,
          rpm: 0,
          startKnown: true,
        },
      ],
    },
    machine(),
  );
  expect(time.seconds).toBe(0);
  expect(time.findings[0]).toMatchObject({
    code: "moves-not-timed",
    program: { file: "x.nc", line: 7 },
  });
});

test("a machine that cannot be timed is told", () => {
  const time = timeOf(readProgram("square.nc", SQUARE), machine({ acceleration: [0, 500, 500] }));
  expect(time.findings[0]?.code).toBe("machine-cannot-be-timed");
  expect(Number.isFinite(time.seconds)).toBe(true);
});

test("plates of a program that names them in comments; a plate's name may hold anything", () => {
  const text = SQUARE.replace("G1 X100", "(plate arm copy 1)\nG1 X100").replace(
    "X0 Y100\n",
    "(plate copy 3 copy 12)\nX0 Y100\n",
  );
  const trace = readProgram("square.nc", text);
  const starts = plateStarts(trace);
  expect(starts.map((s) => [s.plate, s.copy])).toEqual([
    ["arm", 1],
    ["copy 3", 12],
  ]);
  const time = timeOf(trace, machine());
  const lines = starts.map((s) => s.line);
  const seconds = splitByLine(trace, time.stepSeconds, lines);
  expect(seconds[0]).toBeCloseTo(8.35976 / 2, 4);
  expect(seconds[1]).toBeCloseTo(8.35976 / 2, 4);
});
