/** Every error that NISTIR 6556 raises for the plain codes, as a finding with line and column. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { codes, moves, read, refusals, START } from "./support.ts";

const ROWS: readonly [string, string][] = [
  ["G1 X1 ! Y2", "program-bad-character"],
  ["G1 X1 E2", "program-bad-character"],
  ["G1 X1 (open", "program-open-comment"],
  ["(a (b) c)", "program-nested-comment"],
  ["G1 X Y2", "program-no-digits"],
  ["G1 X1.2.3", "program-bad-character"],
  ["G1 X-", "program-no-digits"],
  ["G1 X1 X2", "program-word-twice"],
  ["G1 X1 F10 F20", "program-word-twice"],
  ["G1 X[1+2]", "program-expression"],
  ["G1 X#5", "program-expression"],
  ["G1 Xsin[30]", "program-expression"],
  ["#1 = 5", "program-expression"],
  ["N123456 G1 X1", "program-line-number"],
  ["N1.5 G1 X1", "program-line-number"],
  ["G1 N10 X1", "program-line-number"],
  ["G1 X99999999", "program-number-large"],
  [`G1 X1 (${"x".repeat(260)})`, "program-line-too-long"],
  ["G5 X1", "program-unknown-code"],
  ["G1.5 X1", "program-unknown-code"],
  ["M12", "program-unknown-code"],
  ["G18", "program-unsupported-code"],
  ["G41 D1", "program-unsupported-code"],
  ["G28", "program-unsupported-code"],
  ["G38.2 Z-5", "program-unsupported-code"],
  ["M48", "program-unsupported-code"],
  ["G1 X1 A5", "program-unsupported-code"],
  ["G0 G1 X1", "program-two-of-a-group"],
  ["G20 G21", "program-two-of-a-group"],
  ["G90 G91", "program-two-of-a-group"],
  ["M3 M4", "program-two-of-a-group"],
  ["M3 M7 M6 M0 M48", "program-too-many-m"],
  ["G92 G1 X1", "program-two-axis-codes"],
  ["G1 X1 P5", "program-unused-word"],
  ["G1 X1 I5", "program-unused-word"],
  ["G1 X1 H2", "program-unused-word"],
  ["G81 X1 Z-1 R1 Q1 F9", "program-unused-word"],
  ["G80 X1", "program-axis-without-motion"],
  ["G80 G53 X1", "program-axis-without-motion"],
  ["G1", "program-motion-without-axis"],
  ["G92", "program-motion-without-axis"],
  ["G2 X1 Y1", "program-arc-form"],
  ["G2 I1", "program-arc-form"],
  ["G2 Z-1 I1", "program-arc-form"],
  ["G2 X1 Y1 I1 R1", "program-arc-form"],
  ["G2 X2 I1 K1", "program-arc-form"],
  ["G2 X2 I0 J0", "program-arc-form"],
  ["G2 X0 Y0 R5", "program-arc-form"],
  ["G2 X10 Y0 R4.9", "program-arc-form"],
  ["G93 G1 X1", "program-inverse-feed"],
  ["G1 X1 F-5", "program-number-range"],
  ["S-5", "program-number-range"],
  ["T1.5", "program-number-range"],
  ["T-1", "program-number-range"],
  ["G4 P-1", "program-number-range"],
  ["G4", "program-number-range"],
  ["G81 X1 Z-1 F9", "program-cycle"],
  ["G81 Z-1 R1 F9", "program-cycle"],
  ["G81 X1 Z1 R-1 F9", "program-cycle"],
  ["G82 X1 Z-1 R1 F9", "program-cycle"],
  ["G83 X1 Z-1 R1 F9", "program-cycle"],
  ["G83 X1 Z-1 R1 Q0 F9", "program-cycle"],
  ["G83 X1 Z-1 R1 Q0.00001 F9", "program-cycle"],
  ["G81 X1 Z-1 R1 L1.5 F9", "program-cycle"],
  ["G81 X1 Z-1 R1 L9000000 F9", "program-cycle"],
  ["%", "program-percent"],
];

describe("errors", () => {
  for (const [line, code] of ROWS) {
    it(`${line.slice(0, 40)} → ${code}`, () => {
      expect(refusals(line)).toEqual([code]);
    });
  }

  it("names line and column", () => {
    const trace = read(`${START}G0 X0 Y0 Z5\n  G1 X1 Y$\nM2`);
    expect(trace.findings[0]).toMatchObject({
      code: "program-no-digits",
      program: { file: "test.nc", line: 3 },
      data: { column: 9 },
    });
  });

  it("axis words before any motion code, feed moves before any F", () => {
    expect(codes(read("G21\nX1\nM2"))).toEqual(["program-axis-without-motion"]);
    const trace = read("G21\nG0 X0 Y0 Z0\nG1 X1\nM2");
    expect(codes(trace)).toEqual(["program-zero-feed"]);
    expect(moves(trace)).toHaveLength(2);
  });

  it("goes on after a line in error, and tells of all", () => {
    const trace = read(`${START}G0 X0 Y0 Z5\nG1 X1 ? F9\nG1 X2 F9\nM99\nG1 X3\nM2`);
    expect(codes(trace)).toEqual(["program-bad-character", "program-unknown-code"]);
    expect(moves(trace).map((m) => m.x1)).toEqual([0, 2, 3]);
  });

  it("an end is asked for, and nothing after it is run", () => {
    expect(codes(read("G21\n"))).toEqual(["program-no-end"]);
    expect(codes(read(""))).toEqual(["program-no-end"]);
    expect(codes(read("%\nG21\n%\n"))).toEqual([]);
    expect(codes(read("%\nG21\n"))).toEqual(["program-no-end"]);
    const trace = read("G21\nM30\nG0 X1\n\n%\n");
    expect(codes(trace)).toEqual(["program-after-end"]);
    expect(moves(trace)).toEqual([]);
    expect(trace.lines).toBe(5);
  });

  it("block delete, machine coordinates and changed work offsets are told of", () => {
    expect(refusals("/ G0 X1")).toEqual(["program-block-delete"]);
    expect(refusals("G53 G0 Z0")).toEqual(["program-machine-coordinates"]);
    expect(refusals("G55 G0 X1")).toEqual(["program-work-offset"]);
    expect(refusals("G54 G0 X1")).toEqual([]);
    expect(codes(read("G55\nG0 X1\nM2"))).toEqual([]);
  });

  it("incremental words and arcs from nowhere are told of", () => {
    expect(codes(read("G91\nG0 X1\nM2"))).toEqual(["program-start-unknown"]);
    expect(codes(read("G90\nG2 X1 Y1 R5 F9\nM2"))).toEqual(["program-start-unknown"]);
    expect(codes(read("G92 X0 Y0\nM2"))).toEqual([
      "program-offset-at-start",
      "program-offset-at-start",
    ]);
  });

  it("a second cutter in one program is told of", () => {
    expect(codes(read("T1 M6\nG0 X1\nT2 M6\nM2"))).toEqual(["program-cutter-change"]);
    expect(codes(read("T1 M6\nG0 X1\nM2"))).toEqual([]);
  });

  it("; begins a comment only where the controller has it so", () => {
    expect(codes(read("G21 ; mm\nM2"))).toEqual(["program-bad-character"]);
    const trace = read("G21 ; mm\nM2", { semicolons: true });
    expect(codes(trace)).toEqual([]);
    expect(trace.comments).toEqual([{ line: 1, text: "mm" }]);
  });
});

describe("any text", () => {
  const finite = (text: string): void => {
    const trace = read(text);
    for (const m of moves(trace)) {
      const numbers = [m.x0, m.y0, m.z0, m.x1, m.y1, m.z1, m.feed, m.rpm];
      if (m.arc !== undefined) numbers.push(m.arc.cx, m.arc.cy, m.arc.radius, m.arc.sweep);
      expect(numbers.every(Number.isFinite)).toBe(true);
    }
    for (const f of trace.findings) {
      expect(f.program?.line).toBeLessThanOrEqual(trace.lines);
      expect(f.message).not.toMatch(/undefined|NaN/);
    }
  };

  it("random bytes never throw", () => {
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 400 }), finite));
  });

  it("random words never throw", () => {
    const word = fc.tuple(
      fc.constantFrom(..."ABCDFGHIJKLMNPQRSTXYZ/(%)#[".split("")),
      fc.oneof(
        fc.integer({ min: -5, max: 100 }).map(String),
        fc.double({ min: -50, max: 50, noNaN: true }).map((v) => v.toFixed(3)),
        fc.constantFrom(
          "0",
          "1",
          "2",
          "3",
          "53",
          "80",
          "81",
          "83",
          "90",
          "91",
          "92",
          "93",
          "",
          ".",
        ),
      ),
    );
    const line = fc.array(word, { maxLength: 8 }).map((ws) => ws.map((w) => w.join("")).join(" "));
    fc.assert(fc.property(fc.array(line, { maxLength: 30 }), (lines) => finite(lines.join("\n"))));
  });

  it("any cut-off of a program is read, and misses its end", () => {
    const text = `%\n${START}(one plate)\nS9000 M3\nG4 P2\nG0 X1 Y1 Z5\nG1 Z-1 F50\nG2 X3 I1 F90\nG81 X5 Y5 Z-1 R1\nG80\nM5\nM2`;
    for (let n = 0; n < text.length; n++) {
      const trace = read(text.slice(0, n));
      expect(trace.findings.some((f) => f.code === "program-no-end")).toBe(true);
    }
  });

  it("line ends, blanks, numbers and case make no difference", () => {
    const text = `${START}S9000 M3\nG0 X1.5 Y1 Z5\nG1 Z-1 F50\nG2 X3.5 I1\nM5\nM2\n`;
    const plain = read(text).steps;
    const again = [
      text.replace(/\n/g, "\r\n"),
      text.toLowerCase(),
      text.replace(/ /g, ""),
      text.replace(/^/gm, " \t"),
      text.replace(/([XYZI])(-?\d+)\.(\d)/g, "$1 $2 . $3 000"),
    ];
    for (const other of again) expect(read(other).steps).toEqual(plain);
    let n = 0;
    const numbered = text.replace(/^(?=.)/gm, () => `N${n++ * 10} `);
    expect(read(numbered).steps).toEqual(plain);
  });
});
