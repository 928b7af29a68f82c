import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { proofInput } from "../../src/core/job/planning/target.ts";
import { readPlan } from "../../src/core/job/read-plan.ts";
import { starterPlan } from "./starter-plan.ts";

const PLAN = starterPlan().plan as PlanJson;
const TEXT = JSON.stringify(PLAN);

type Path = readonly (string | number)[];

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  const children = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
  return [
    ...(path.length === 0 ? [] : [path]),
    ...children.flatMap(([k, v]) => pathsOf(v, [...path, k])),
  ];
}

/** A copy with the value at `path` replaced, or taken out. */
function withValue(path: Path, value: unknown): string {
  const copy = structuredClone(PLAN);
  const parent = path.slice(0, -1).reduce<unknown>((v, k) => Object(v)[k], copy);
  const key = path.at(-1) as string;
  if (value === undefined) delete Object(parent)[key];
  else Object(parent)[key] = value;
  return JSON.stringify(copy);
}

describe("plan.json read again", () => {
  test("is the plan that was written", () => {
    const { value, findings } = readPlan({ name: "plan.json", text: TEXT });
    expect(findings).toEqual([]);
    expect(value).toEqual(JSON.parse(TEXT));
  });

  test("is refused, with the place, where something that proof needs is not what it was", () => {
    const needed: Path[] = [
      ["sheets", 0, "thickness"],
      ["sheets", 0, "outline", "segments"],
      ["sheets", 0, "placements", 0, "outer", "start"],
      ["sheets", 0, "tabs", 0, "at"],
      ["cutters", 0, "effectiveDiameter"],
      ["cutters", 0, "chip"],
      ["machine", "travel"],
      ["origin", "z"],
      ["cutting", "finish"],
      ["programs", 0, "passDepth"],
    ];
    for (const path of needed) {
      for (const value of [undefined, null, "x", [], {}]) {
        const { value: plan, findings } = readPlan({
          name: "p.json",
          text: withValue(path, value),
        });
        expect(plan, path.join(".")).toBeUndefined();
        expect(findings).toHaveLength(1);
        expect(findings[0]).toMatchObject({
          code: "plan-shape",
          severity: "stop",
          drawing: { file: "p.json" },
        });
        expect(findings[0]?.message).toContain(path.join("."));
      }
    }
  });

  test("whatever stands in it, it is refused or can be made a target of proof", () => {
    const paths = pathsOf(JSON.parse(TEXT));
    const value = fc.oneof(fc.constant(undefined), fc.jsonValue({ maxDepth: 2 }));
    fc.assert(
      fc.property(fc.constantFrom(...paths), value, (path, put) => {
        const read = readPlan({ name: "plan.json", text: withValue(path, put) });
        expect(read.value === undefined).toBe(read.findings.length > 0);
        if (read.value !== undefined)
          expect(() => proofInput(read.value as PlanJson, [])).not.toThrow();
      }),
    );
  });

  test("any text is refused without an exception", () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
        const { value, findings } = readPlan({ name: "plan.json", text });
        expect(value).toBeUndefined();
        expect(findings).toHaveLength(1);
      }),
    );
  });
});
