/** Relief that a job asks for, window and slot, both ways: planned with a stock for finishing, and proven. */
import { describe, expect, test } from "vitest";
import { MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A window of 20 × 14 and a slot of 12 × 5 mm, all corners sharp. */
const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="70mm" height="40mm" viewBox="0 0 70 40">
<rect x="0" y="0" width="70" height="40"/><rect x="8" y="13" width="20" height="14"/>
<rect x="44" y="17.5" width="12" height="5"/></svg>`;

/** The router's radius is 1 mm; 0.1 mm is left for finishing unless the job says otherwise. */
function plannedWith(way: string, radius: number | undefined): Planned {
  const own = radius === undefined ? "" : `, radius: ${radius}`;
  const text = `weftcut: 1
name: trial
machine: machine.yaml
sheets:
  - { name: base, material: carbon-woven, thickness: 2, size: [150, 100] }
plates:
  - name: base
    drawing: base.svg
    sheet: base
    relief:
      - { window: [18, 20], way: ${way}${own} }
      - { window: [50, 20], way: ${way}${own} }
cutters:
  - { name: router, kind: diamond-router, diameter: 2, fluteLength: 6, overhang: 14 }
`;
  const files = new Map([
    ["machine.yaml", MACHINE_YAML],
    ["base.svg", PLATE],
  ]);
  const read = (name: string) => {
    const file = files.get(name);
    return file === undefined ? undefined : bytes(file);
  };
  const { value, findings } = parseJob({ name: "job.yaml", text }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read);
}

describe.each([
  // Both by geometry: a relief along the wall reaches a radius past the corner; on the bisector (1 − √½) r past each.
  ["along-wall", (r: number) => r],
  ["bisector", (r: number) => r * (1 - Math.SQRT1_2)],
] as const)("%s", (way, bite) => {
  test.each([
    ["a little more than the cutter and the stock", undefined, 1.05 * 1.1],
    ["larger", 1.2, 1.2],
    ["too small for roughing, large enough for finishing", 1.05, 1.05],
    ["the cutter's own, a hundredth more to enter by", 1, 1.01],
  ])("radius %s: planned, and proven", (_, radius, made) => {
    const planned = plannedWith(way, radius);
    expect(planned.findings.filter((f) => f.severity !== "note").map((f) => f.message)).toEqual([]);
    expect(planned.plan?.proof.proven).toBe(true);
    const fits = planned.plan?.fits ?? [];
    expect(fits.map((f) => f.what)).toEqual(["window", "window"]);
    for (const { relief } of fits) {
      expect(relief?.way).toBe(way);
      expect(relief?.corners).toBe(4);
      expect(relief?.radius).toBeCloseTo(made, 9);
      expect(relief?.bite).toBeCloseTo(bite(made), 9);
    }
  });

  test("a radius that the cutter does not enter is told, with the cutter that would, and nothing is planned", () => {
    const planned = plannedWith(way, 0.6);
    const stops = planned.findings.filter((f) => f.severity === "stop");
    expect(stops.map((f) => f.code)).toEqual([
      "neck-narrower-than-cutter",
      "neck-narrower-than-cutter",
    ]);
    for (const f of stops) {
      expect(f.data["largest"]).toBeCloseTo(1.2, 1);
      expect(f.hint).toBeTruthy();
    }
    expect(planned.plan).toBeUndefined();
  });
});
