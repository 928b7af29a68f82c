/** Whatever the text, reading and proving answer; they do not throw, and they do not prove it. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Outcome } from "../../src/core/finding/finding.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { checkMoves, checkStock, movesOf } from "../../src/core/proof/moves.ts";
import type { Proof, ProofInput } from "../../src/core/proof/proof.ts";
import { beginSheet, finishSheet, joinProofs, prove } from "../../src/core/proof/prove.ts";
import { received, sendable } from "../../src/core/proof/sent.ts";
import { inputOf, program } from "./support/job.ts";

const whole = program();
const lines = whole.split("\n");

function judged(text: string): boolean {
  const input = inputOf(text);
  const proof = prove(input);
  const { value, findings } = proof;
  expect(sentAndBack(input)).toEqual(proof);
  expect(value.checks.every((c) => !Number.isNaN(c.worst) && !Number.isNaN(c.limit))).toBe(true);
  // A program that is refused says why.
  expect(value.proven || findings.length > 0).toBe(true);
  return value.proven;
}

/** The half that goes along with the moves made from a copy of rows of numbers, as in another thread. */
function sentAndBack(input: ProofInput): Outcome<Proof> {
  const { sheets, ...setting } = input;
  const results = sheets.map((sheet) => {
    const asks = sendable({ ...setting, sheet });
    const there = () => received(structuredClone(asks));
    const moves = structuredClone(checkMoves(movesOf(there())));
    const stock = structuredClone(checkStock(there()));
    return finishSheet(beginSheet(input, sheet), { moves, stock });
  });
  return joinProofs(input, results);
}

describe("never throws", () => {
  test("random bytes", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        const text = new TextDecoder("latin1").decode(bytes);
        expect(() => readProgram("a.nc", text)).not.toThrow();
        expect(judged(text)).toBe(false);
      }),
    );
  });

  test("random words of the alphabet, with numbers of all sizes", () => {
    const word = fc
      .tuple(
        fc.constantFrom(..."ABCDFGHIJKLMNPQRSTXYZ/%()#[;"),
        fc.oneof(
          fc.integer({ min: -3, max: 100 }),
          fc.double({ min: -1e3, max: 1e3, noNaN: true }),
          fc.constantFrom(
            "",
            ".",
            "-",
            "1e9",
            "1e308",
            "99999999999999999999",
            "0.00000001",
            "--1",
          ),
        ),
      )
      .map(([letter, value]) => `${letter}${value}`);
    const line = fc.array(word, { maxLength: 6 }).map((words) => words.join(" "));
    fc.assert(
      fc.property(fc.array(line, { maxLength: 30 }), (list) => {
        const text = ["G21 G90 G17 G94", "G0 Z5", "S9000 M3", ...list, "M2"].join("\n");
        expect(judged(text)).toBe(false);
      }),
    );
  });

  test("a program cut off anywhere is read and refused", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: whole.trimEnd().length - 1 }), (end) => {
        expect(judged(whole.slice(0, end))).toBe(false);
      }),
      { numRuns: 40 },
    );
  });

  test("a program with its lines in any order is judged", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(lines, { minLength: lines.length }), (list) => {
        fc.pre(list.join("\n") !== whole);
        judged(list.join("\n"));
      }),
      { numRuns: 15 },
    );
  });

  test("places a kilometre off the sheet cost no more than others", () => {
    for (const far of ["X1000000", "Y-99999999", "Z-100000", "X1e300"]) {
      expect(judged(whole.replace("\nG0 Z5\nM5", `\nG0 Z5\nG1 ${far} F500\nM5`))).toBe(false);
      expect(judged(whole.replace("\nG0 Z5\nM5", `\nG1 ${far} F500\nG0 Z5\nM5`))).toBe(false);
    }
  });
});
