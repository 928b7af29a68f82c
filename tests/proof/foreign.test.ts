/**
 * A program written by hand in another style than weftcut's: inches, steps instead of places, arcs by
 * radius, small letters, canned drilling, line numbers, a tape's % signs.
 */
import { describe, expect, test } from "vitest";
import { readProgram } from "../../src/core/program/read/read.ts";
import { failuresOf, fixtureText, foreignJobs, proofOf, type SheetJob } from "./support/planned.ts";

const job = foreignJobs()[0] as SheetJob;

describe("a hand-written program", () => {
  test("is in another style", () => {
    const codes = job.programs.flatMap(({ file, text }) => {
      const { style, findings } = readProgram(file, text);
      expect(findings).toEqual([]);
      return style?.codes.map((c) => c.code) ?? [];
    });
    for (const code of ["G20", "G91", "G81", "G83", "G98"]) expect(codes).toContain(code);
    expect(fixtureText("foreign/tag-router.nc")).toMatch(/^g3 x.* r/m);
    expect(fixtureText("foreign/tag-router.nc")).not.toMatch(/^g[123].*[ij]/m);
  });

  test("proves, with every check listed", () => {
    const proof = proofOf(job);
    expect(failuresOf(proof)).toEqual([]);
    expect(proof.proven).toBe(true);
    expect(proof.checks.length).toBeGreaterThan(40);
    expect(proof.overcutMm).toBeLessThan(1e-9);
    expect(proof.leftMm2).toBe(0);
  });

  test("each of its programs alone does not", () => {
    for (const only of job.programs) expect(proofOf(job, [only]).proven).toBe(false);
    expect(proofOf(job, []).checks.map((c) => c.code)).toEqual(["sheet-not-cut"]);
  });

  test("a peck that comes down at rapid through material is refused", () => {
    const text = fixtureText("foreign/tag-drill.nc").replace(
      "G98 G81 X1. Y1. Z-0.069 R0.04 F9.",
      "G00 Z-0.03",
    );
    const programs = job.programs.map((p) => (p.file === "tag-drill.nc" ? { ...p, text } : p));
    expect(failuresOf(proofOf(job, programs))).toContain("rapid-in-stock");
  });
});
