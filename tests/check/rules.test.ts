/** Every rule trips just outside its limit and passes just inside, with the number, a place and a way out. */
import { describe, expect, test } from "vitest";
import { RULES } from "../../src/core/check/registry.ts";
import { runChecks, withoutToldTwice } from "../../src/core/check/run.ts";
import type { CheckInput } from "../../src/core/check/view.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { CHECK_CODES } from "../../src/core/finding/say-check.ts";
import type { Case } from "./cases/case.ts";
import { cutCases } from "./cases/cut.ts";
import { hardwareCases } from "./cases/hardware.ts";
import { holdCases } from "./cases/hold.ts";
import { propellerCases } from "./cases/propeller.ts";

const cases: readonly Case[] = [...cutCases, ...holdCases, ...hardwareCases, ...propellerCases];

function said(input: CheckInput, code: string): Finding[] {
  return runChecks(input).filter((f) => f.code === code);
}

describe.each(cases)("$code: $what", (c) => {
  const found = said(c.outside, c.code);

  test("outside its limit it says how much was found and how much is wanted", () => {
    const [first] = found;
    expect(first).toBeDefined();
    expect(first?.severity).toBe(c.severity);
    expect(Math.abs(Number(first?.data["found"]) - c.found)).toBeLessThanOrEqual(c.within ?? 1e-6);
    expect(first?.data["wanted"]).toBeCloseTo(c.wanted, 6);
  });

  test("it names a place and a way out", () => {
    for (const f of found) {
      expect(f.hint).toBeTruthy();
      const job = c.code === "propeller-discs-near" || c.code === "axis-scale-off";
      if (!job) expect(f.plate ?? f.sheet).toBeTruthy();
      expect(f.message).toMatch(/\d/);
      expect(`${f.message} ${f.hint}`).not.toMatch(/undefined|NaN|Infinity|-0 /);
    }
    if (c.at === undefined) return;
    const [x, y] = found[0]?.at ?? [Number.NaN, Number.NaN];
    expect(Math.hypot(x - c.at[0], y - c.at[1])).toBeLessThan(0.05);
  });

  test("inside its limit it is silent, or speaks of a lesser level only", () => {
    const inside = said(c.inside, c.code);
    expect(inside.map((f) => f.severity)).toEqual(c.insideSays === undefined ? [] : [c.insideSays]);
  });
});

test("every rule has a case, and every sentence a rule", () => {
  const covered = new Set(cases.map((c) => c.code));
  expect(RULES.filter((r) => !covered.has(r.code)).map((r) => r.code)).toEqual([]);
  expect(new Set(RULES.map((r) => r.code))).toEqual(new Set(CHECK_CODES));
  expect(RULES.length).toBe(CHECK_CODES.length);
  for (const rule of RULES) expect(rule.limits.length, rule.code).toBeGreaterThan(0);
});

describe("what the job says of a rule's weight", () => {
  const thin = holdCases.find((c) => c.code === "web-between-thin") as Case;
  const override = { code: thin.code, severity: "note", reason: "a test piece" } as const;

  test("changes it, and the reason is printed", () => {
    const [f] = runChecks(thin.outside, [override]).filter((x) => x.code === thin.code);
    expect(f?.severity).toBe("note");
    expect(f?.message).toContain("a test piece");
    expect(f?.message).toContain("warn");
  });

  test("holds for the plate that it names and for no other", () => {
    const [other] = runChecks(thin.outside, [{ ...override, plate: "another" }]).filter(
      (x) => x.code === thin.code,
    );
    expect(other?.severity).toBe("warn");
    const both = [override, { ...override, severity: "stop", plate: "plate" } as const];
    const [own] = runChecks(thin.outside, both).filter((x) => x.code === thin.code);
    expect(own?.severity).toBe("stop");
  });
});

test("what a rule has told of a feature, a later stage does not tell again; a stop always is", () => {
  const [told] = said(
    cutCases.find((c) => c.code === "corner-stays-round")?.outside as CheckInput,
    "corner-stays-round",
  );
  const later = told as Finding;
  const stop: Finding = { ...later, severity: "stop" };
  const other: Finding = { ...later, plate: "another" };
  expect(withoutToldTwice([later], [later, stop, other])).toEqual([stop, other]);
});
