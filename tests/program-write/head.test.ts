/**
 * What programs say in words before they move, against what the plan holds and what the moves do: for every
 * program of jobs with one cutter and with two, with Z0 on the sheet and on the spoilboard.
 */
import { describe, expect, test } from "vitest";
import { bounds } from "../../src/core/geometry/contour.ts";
import type { PlanJson, ProgramJson, SheetJson } from "../../src/core/job/plan-json.ts";
import { contourOf } from "../../src/core/job/planning/contour-json.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isMove, type Trace } from "../../src/core/program/read/trace.ts";
import { demoJobs, planned, type SheetJob } from "../proof/support/planned.ts";

/** In words: the head is done by then. */
const LINES = 40;

interface Read {
  readonly name: string;
  readonly plan: PlanJson;
  readonly sheet: SheetJson;
  readonly program: ProgramJson;
  readonly number: number;
  readonly text: string;
  readonly head: string;
  readonly trace: Trace;
}

function readOf(jobs: readonly SheetJob[]): Read[] {
  return jobs.flatMap(({ plan, sheet, programs }) =>
    programs.map(({ file, text }) => {
      const first = text.split("\n").slice(0, LINES);
      const words = first.filter((l) => l.startsWith("(")).map((l) => l.slice(1, -1));
      const number = plan.programs.findIndex((p) => p.file === file);
      return {
        name: `${file}, Z0 ${plan.origin.z}`,
        plan,
        sheet,
        program: plan.programs[number] as ProgramJson,
        number: number + 1,
        text,
        // Wrapped lines are one sentence again.
        head: words.join(" "),
        trace: readProgram(file, text),
      };
    }),
  );
}

/** Small holes with one cutter, the outline with another, on one sheet. */
const twoCutters = (z: string): string => `weftcut: 1
name: two cutters
machine: ../machines/medium-router.yaml
origin: { z: ${z} }
sheets: [{ name: carbon, material: carbon-woven, thickness: 2.5, size: [200, 60] }]
plates: [{ name: arm, drawing: arm.dxf, sheet: carbon, units: mm }]
cutters:
  - { name: fine, kind: two-flute, diameter: 1.5, fluteLength: 6, overhang: 12 }
  - { name: stout, kind: two-flute, diameter: 4, fluteLength: 10, overhang: 18 }
`;

const programs: readonly Read[] = [
  ...readOf(demoJobs()),
  ...readOf(planned(twoCutters("sheet-top"), "demo/")),
  ...readOf(planned(twoCutters("spoilboard"), "demo/")),
];

/** Written with two decimals; and how far an arc reaches is known to what its ends and centre are rounded to, 1e-4 each way. */
const near = (text: string | undefined, value: number): void => {
  expect(text).toBeDefined();
  expect(Math.abs(Number(text) - value)).toBeLessThan(0.005 + 2e-4);
};

test("the jobs have what is to be told: both zeros, a change of cutter, a worn cutter", () => {
  expect(new Set(programs.map((p) => p.plan.origin.z)).size).toBe(2);
  expect(programs.some((p) => p.head.includes("CUTTER CHANGE"))).toBe(true);
  expect(programs.some((p) => p.head.includes("NEW CUTTER"))).toBe(true);
});

describe.each(programs)("$name", ({ plan, sheet, program, number, text, head, trace }) => {
  const top = plan.origin.z === "spoilboard" ? sheet.thickness : 0;
  const moves = trace.steps.filter(isMove);

  test("job, sheet, material, thickness, size, cutter, order", () => {
    expect(head).toContain(`${plan.name}: program ${number} of ${plan.programs.length}`);
    const { min, max } = bounds(contourOf(sheet.outline));
    expect(head).toContain(
      `sheet ${sheet.name}: ${sheet.material} ${sheet.thickness} mm thick, ${max.x - min.x} by ${max.y - min.y} mm`,
    );
    const cutter = plan.cutters.find((c) => c.name === program.cutter);
    expect(head).toContain(
      `cutter ${program.cutter}: ${cutter?.kind} ${cutter?.diameter} mm, cuts ${cutter?.effectiveDiameter} mm`,
    );
    const order = program.plates.map((p) => `${p.plate} ${p.copy}`).join(", ");
    expect(head).toContain(`plates in this order: ${order}`);
  });

  test("where zero is, by the plan and by where the moves go", () => {
    expect(head).toContain("X0 Y0 is the lower left corner of the sheet");
    if (plan.origin.z === "spoilboard") {
      expect(head).toContain(`Z0 is the spoilboard: the sheet top is at Z${top}`);
    } else {
      expect(head).toContain("Z0 is the top of the sheet");
    }
    expect(head).not.toContain(plan.origin.z === "spoilboard" ? "Z0 is the top" : "spoilboard:");
    // The first cut goes in at the height that the words call the sheet's top.
    const first = moves.find((m) => m.kind === "feed");
    expect(first?.z1).toBe(top);
  });

  test("deepest Z, clearance and the box are those of the moves", () => {
    const known = moves.filter((m) => (m.unknown ?? 0) === 0);
    const lowest = Math.min(...moves.map((m) => m.z1));
    const highest = Math.max(...moves.map((m) => m.z1));
    const deepest = /deepest Z(\S+), (\S+) mm (below|above) the underside/.exec(head);
    near(deepest?.[1], lowest);
    const below = top - sheet.thickness - lowest;
    near(deepest?.[2], Math.abs(below));
    expect(deepest?.[3]).toBe(below >= 0 ? "below" : "above");
    near(/clearance Z(\S+), (\S+) mm above the sheet/.exec(head)?.[1], highest);
    near(/clearance Z(\S+), (\S+) mm above the sheet/.exec(head)?.[2], highest - top);
    const box = /X(\S+) to (\S+), Y(\S+) to (\S+), Z(\S+) to (\S+)/.exec(head);
    const [x0, x1, y0, y1] = extent(known);
    for (const [i, v] of [x0, x1, y0, y1, lowest, highest].entries()) near(box?.[i + 1], v);
  });

  test("minutes, speed and feed are the plan's", () => {
    const minutes = Number(/about (\S+) minutes/.exec(head)?.[1]);
    expect(Math.abs(minutes - program.seconds / 60)).toBeLessThanOrEqual(0.0501);
    const { rpm, feed } = program;
    expect(head).toContain(`spindle ${rpm} rpm, feed ${feed}, pass ${program.passDepth} mm`);
  });

  test("what to do about zero first: for a new sheet, a new cutter, a worn one", () => {
    const last = plan.programs[number - 2];
    const where =
      plan.origin.z === "spoilboard"
        ? "on the spoilboard beside the sheet"
        : "on the top of the sheet where nothing is cut";
    if (last?.sheet !== program.sheet) {
      expect(head).toContain(`first: fix sheet ${sheet.name}, put in ${program.cutter}`);
    } else if (last.cutter === program.cutter) {
      expect(program.newCutter).toBe(true);
      expect(head).toContain(`NEW CUTTER: put in a new ${program.cutter}.`);
      expect(head).toContain(`Set Z0 anew with it ${where}`);
    } else {
      expect(head).toContain(`CUTTER CHANGE: put in ${program.cutter}.`);
      expect(head).toContain(`Set Z0 anew with it ${where}`);
    }
  });

  test("S is said once, and every line is plain ASCII that no streamed controller obeys", () => {
    expect([...text.matchAll(/^(?!\().*\bS\d/gm)].length).toBe(1);
    expect(text).toMatch(/^[\n -~]*$/);
    expect(text).not.toMatch(/[!~?$]/);
  });
});

/** Of all that has a place, arcs with their bows. */
function extent(moves: readonly Extract<Trace["steps"][number], { x1: number }>[]) {
  const xs: number[] = [];
  const ys: number[] = [];
  for (const m of moves) {
    for (let i = 0; i <= 2000; i++) {
      const t = i / 2000;
      if (m.arc === undefined && i > 0 && i < 2000) continue;
      if (m.arc === undefined) {
        xs.push(i === 0 ? m.x0 : m.x1);
        ys.push(i === 0 ? m.y0 : m.y1);
        continue;
      }
      const a = Math.atan2(m.y0 - m.arc.cy, m.x0 - m.arc.cx) + m.arc.sweep * t;
      xs.push(m.arc.cx + m.arc.radius * Math.cos(a));
      ys.push(m.arc.cy + m.arc.radius * Math.sin(a));
    }
  }
  const least = (v: readonly number[]) => v.reduce((a, b) => Math.min(a, b));
  const most = (v: readonly number[]) => v.reduce((a, b) => Math.max(a, b));
  return [least(xs), most(xs), least(ys), most(ys)] as const;
}
