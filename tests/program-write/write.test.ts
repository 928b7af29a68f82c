/** Programs as text: rounding, dialects, order of words. Read back by the reader, which shares nothing with the writer. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Machine } from "../../src/core/machine/machine.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { Trace, TraceMove } from "../../src/core/program/read/trace.ts";
import { arcWords } from "../../src/core/program/write/arc-words.ts";
import { number, rounded } from "../../src/core/program/write/words.ts";
import { writeProgram } from "../../src/core/program/write/write.ts";
import { MACHINE, OPTIONS, PLATE_FILES, platesFrom, runOf, SHEET } from "../toolpath/support.ts";

const PLATE = "demo/camera-side.dxf";
const withMachine = (machine: Partial<Machine>) => runOf({ plates: platesFrom(PLATE), machine });
const moves = (trace: Trace | undefined): TraceMove[] =>
  (trace?.steps ?? []).filter((s): s is TraceMove => s.kind === "feed" || s.kind === "rapid");
const text = (machine: Partial<Machine>): string => withMachine(machine).texts[0] ?? "";

test("numbers: at most the decimals asked, no trailing zeros, no minus zero", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), fc.constantFrom(3, 4), (v, n) => {
      const written = number(v, n);
      expect(written).toMatch(/^-?(0|[1-9]\d*)(\.\d*[1-9])?$/);
      expect(written).not.toBe("-0");
      expect(Math.abs(Number(written) - v)).toBeLessThanOrEqual(0.5 * 10 ** -n + 1e-11);
    }),
  );
});

// NISTIR 6556 (Kramer, Proctor, Messina 2000), sec. 3.5.3.2: radii that differ by more than 0.002 mm are an error.
test("arcs agree after rounding, at three and at four decimals", () => {
  const angle = fc.double({ min: 0, max: 6.28, noNaN: true });
  fc.assert(
    fc.property(
      fc.double({ min: 0.05, max: 500, noNaN: true }),
      angle,
      angle,
      fc.constantFrom(3, 4),
      (radius, a, sweep, decimals) => {
        const centre = { x: 12.34567, y: -7.65432 };
        const at = (t: number) => ({
          x: rounded(centre.x + radius * Math.cos(t), decimals),
          y: rounded(centre.y + radius * Math.sin(t), decimals),
        });
        const words = arcWords(at(a), at(a + sweep), centre, radius, decimals);
        const error = Math.hypot(words.i, words.j) - radius;
        expect(words.mismatch).toBeLessThan(0.002);
        expect(Math.abs(error)).toBeLessThan(2 * 10 ** -decimals);
      },
    ),
  );
});

describe.each(PLATE_FILES)("%s", (file) => {
  test.each([3, 4])(
    "at %d decimals: nothing to say, no circle that was none, no rapid across below the hop",
    (decimals) => {
      const run = runOf({ plates: platesFrom(file), machine: { decimals } });
      const full = run.routed.programs
        .flatMap((p) => p.blocks.flatMap((b) => b.cuts.flatMap((c) => c.moves)))
        .filter((m) => Math.abs(m.arc?.sweep ?? 0) > 2 * Math.PI - 1e-9).length;
      let circles = 0;
      for (const trace of run.traces) {
        expect(trace.findings).toEqual([]);
        for (const m of moves(trace)) {
          if (Math.abs(m.arc?.sweep ?? 0) > 2 * Math.PI - 1e-9) circles++;
          if (m.kind === "rapid" && (m.x0 !== m.x1 || m.y0 !== m.y1) && m.startKnown) {
            expect(Math.min(m.z0, m.z1)).toBeGreaterThanOrEqual(OPTIONS.hop);
          }
        }
      }
      expect(circles).toBe(full);
    },
  );
});

describe("dialects", () => {
  test("units, absolute, plane and feed mode are stated before anything moves, Z before X and Y", () => {
    const lines = text({})
      .split("\n")
      .filter((l) => !l.startsWith("(") && l !== "");
    expect(lines.slice(0, 5)).toEqual(["G21", "G90", "G17", "G94", "G54"]);
    expect(lines[5]).toBe("G0 Z6");
    expect(lines[6]).toMatch(/^S\d+ M3$/);
    expect(lines[7]).toBe("G4 P5");
    expect(lines.slice(-2)).toEqual(["M5", "M2"]);
    expect(lines.at(-3)).toBe("G0 Z6");
  });

  test("each plate's block names its plate and starts safe", () => {
    const lines = text({}).split("\n");
    const at = lines.findIndex(
      (l) => l.startsWith("(plate camera-side") || l.startsWith("(plate plate"),
    );
    expect(at).toBeGreaterThan(0);
    expect(lines.slice(at, at + 3)).toContain("G0 Z6");
  });

  test("dwell in milliseconds, no work offset, no comments, semicolon comments", () => {
    expect(text({ dwell: "milliseconds" })).toContain("G4 P5000\n");
    expect(text({ workOffset: "none" })).not.toContain("G54");
    expect(text({ comments: "none" })).not.toMatch(/[(;]/);
    expect(text({ comments: "semicolon" })).not.toContain("(");
  });

  test("without comments there is no head, and no empty line", () => {
    expect(text({ comments: "none" })).toMatch(/^G21\n/);
    expect(text({ comments: "none" })).not.toMatch(/\n\n/);
    expect(text({ comments: "none", percentLines: true })).toMatch(/^%\nG21\n/);
  });

  test("no line is longer than the profile's, nothing but plain ASCII that no streamed controller obeys", () => {
    for (const lineLength of [60, 70]) {
      for (const line of text({ lineLength }).split("\n")) {
        expect(line.length).toBeLessThanOrEqual(lineLength);
        expect(line).toMatch(/^[ -~]*$/);
        expect(line).not.toMatch(/[!~?%]/);
      }
    }
  });

  test("no F on a rapid; every feed move has one in force", () => {
    for (const line of text({}).split("\n")) {
      if (line.startsWith("G0")) expect(line).not.toContain("F");
    }
    const trace = withMachine({}).traces[0];
    for (const m of moves(trace)) if (m.kind === "feed") expect(m.feed).toBeGreaterThan(0);
  });

  test("without motion memory every move states its code", () => {
    const lines = text({ repeatMotion: true }).split("\n");
    for (const line of lines)
      if (/[XYZ]-?\d/.test(line) && !line.startsWith("(")) expect(line).toMatch(/^G[0123] /);
  });

  test("without arcs the same way is gone in chords, 2 µm off at most", () => {
    const run = withMachine({ arcs: false });
    expect(run.texts[0]).not.toMatch(/G[23]\b/);
    expect(run.cutMetres / withMachine({}).cutMetres).toBeCloseTo(1, 3);
  });

  test("zero on the spoilboard moves every Z by the sheet's thickness, and only that", () => {
    const run = withMachine({});
    const program = run.routed.programs[0];
    if (program === undefined) throw new Error("no program");
    const context = {
      job: "test",
      machine: MACHINE,
      options: OPTIONS,
      originAt: "lower left corner",
      zero: { x: 0, y: 0 },
      number: 1,
      of: 1,
    };
    const read = (zAt: "sheet-top" | "spoilboard") =>
      moves(readProgram("1.nc", writeProgram(program, { ...context, zAt }).text));
    const top = read("sheet-top");
    const board = read("spoilboard");
    expect(board.length).toBe(top.length);
    for (const [i, m] of top.entries()) {
      const other = board[i];
      if (!m.startKnown || other === undefined) continue;
      expect([other.x1, other.y1]).toEqual([m.x1, m.y1]);
      expect(other.z1 - m.z1).toBeCloseTo(SHEET.thickness, 9);
    }
    expect(Math.min(...board.map((m) => m.z1))).toBeCloseTo(-OPTIONS.throughDepth, 9);
  });
});
