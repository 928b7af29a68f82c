/** Checks and fits on the way of a plan: rules are asked, their weight is the job's to change, fits stand in plan.json. */
import { expect, test } from "vitest";
import { MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Two holes with a web of 0.6 mm between them, and a slot of 2.1 × 8.2 mm where 1.93 mm of a side sits. */
const BASE = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
<rect x="0" y="0" width="60" height="40"/><circle cx="15" cy="15" r="3"/><circle cx="21.6" cy="15" r="3"/>
<rect x="40.9" y="18.95" width="8.2" height="2.1"/></svg>`;
/** A side with one tenon of 8 × 3 mm. */
const SIDE = `<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="23mm" viewBox="0 0 30 23">
<path d="M0 0H30V20H19V23H11V20H0Z"/></svg>`;

function plannedWith(more: string): Planned {
  const text = `weftcut: 1
name: trial
machine: machine.yaml
sheets:
  - { name: base, material: carbon-woven, thickness: 3, size: [150, 100] }
  - { name: side, material: carbon-woven, thickness: 2, measuredThickness: 1.93, size: [150, 100] }
plates:
  - { name: base, drawing: base.svg, sheet: base, mates: [{ slot: [45, 20], of: side, fit: snug }] }
  - { name: side, drawing: side.svg, sheet: side }
cutters:
  - { name: router, kind: diamond-router, diameter: 1.5, fluteLength: 6, overhang: 14 }
${more}`;
  const files = new Map([
    ["machine.yaml", MACHINE_YAML],
    ["base.svg", BASE],
    ["side.svg", SIDE],
  ]);
  const read = (name: string) => {
    const file = files.get(name);
    return file === undefined ? undefined : bytes(file);
  };
  const { value, findings } = parseJob({ name: "job.yaml", text }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read);
}

const webs = ({ findings }: Planned) => findings.filter((f) => f.code === "web-between-thin");

test("a thin web is told with its number, and the slot follows the sheet that sits in it", () => {
  const planned = plannedWith("");
  const [web] = webs(planned);
  expect(web?.plate).toBe("base");
  expect(web?.data["found"]).toBeCloseTo(0.6, 3);
  const slot = planned.plan?.fits?.find((f) => f.what === "slot");
  expect(slot?.before.width).toBeCloseTo(2.1, 3);
  expect(slot?.after.width).toBeCloseTo(1.93 + 0.1, 4);
  expect(planned.files.get("job-sheet.html")).toContain("Changed for fits");
  expect(planned.plan?.proof.proven).toBe(true);
});

test("the job may make it a stop, with a reason that is printed; then nothing is planned", () => {
  const planned = plannedWith(
    `checks: [{ code: web-between-thin, severity: stop, reason: "it broke here once" }]`,
  );
  expect(planned.stopped).toBe(true);
  expect(planned.files.size).toBe(0);
  const [web] = webs(planned);
  expect(web?.severity).toBe("stop");
  expect(web?.message).toContain("it broke here once");
});

test("a change of weight that meets nothing is told", () => {
  const { findings } = plannedWith(
    `checks: [{ code: features-overlap, severity: warn, reason: "meant so" }]`,
  );
  expect(findings.find((f) => f.code === "weight-unused")?.data["rule"]).toBe("features-overlap");
});
