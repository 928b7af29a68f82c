/**
 * The border program: nothing turns, nothing comes below clearance, and it goes where a person wants to look: round
 * the sheet, round each keep-out, round all that is cut; no further than the machine moves.
 */
import { describe, expect, test } from "vitest";
import { bounds } from "../../src/core/geometry/contour.ts";
import type { Box } from "../../src/core/geometry/shape.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import type { PlanJson, SheetJson } from "../../src/core/job/plan-json.ts";
import { contourOf } from "../../src/core/job/planning/contour-json.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed, isMove, type Trace, type TraceMove } from "../../src/core/program/read/trace.ts";
import { starterJob } from "../job/starter-plan.ts";
import { fixtureBytes } from "../proof/support/planned.ts";

interface Drawn {
  readonly plan: PlanJson;
  readonly sheet: SheetJson;
  readonly trace: Trace;
  readonly cuts: readonly Trace[];
}

function drawn({ plan, files }: Planned): Drawn {
  const sheet = plan?.sheets[0];
  if (plan === undefined || sheet === undefined) throw new Error("no plan");
  const read = (file: string) => readProgram(file, files.get(file) ?? "", dialectOf(plan.machine));
  return {
    plan,
    sheet,
    trace: read(`border-${sheet.name}.nc`),
    cuts: plan.programs.map((p) => read(p.file)),
  };
}

const moves = ({ steps }: Trace): TraceMove[] => steps.filter(isMove);

function boxOf(some: readonly TraceMove[]): Box {
  const box = { min: { x: 1e9, y: 1e9 }, max: { x: -1e9, y: -1e9 } };
  const add = (x: number, y: number): void => {
    box.min.x = Math.min(box.min.x, x);
    box.min.y = Math.min(box.min.y, y);
    box.max.x = Math.max(box.max.x, x);
    box.max.y = Math.max(box.max.y, y);
  };
  for (const m of some) {
    if ((m.unknown ?? 0) !== 0) continue;
    add(m.x0, m.y0);
    add(m.x1, m.y1);
    if (m.arc === undefined) continue;
    const { cx, cy, radius, sweep } = m.arc;
    const from = Math.atan2(m.y0 - cy, m.x0 - cx);
    for (let i = 1; i < 512; i++) {
      const a = from + (sweep * i) / 512;
      add(cx + radius * Math.cos(a), cy + radius * Math.sin(a));
    }
  }
  return box;
}

function expectNear(a: Box, b: Box, room: number): void {
  for (const end of ["min", "max"] as const) {
    expect(Math.abs(a[end].x - b[end].x)).toBeLessThan(room);
    expect(Math.abs(a[end].y - b[end].y)).toBeLessThan(room);
  }
}

/** Plates of arcs alone, whose ends are not where they are widest. */
function round(): Planned {
  const text = `weftcut: 1
name: round
machine: ../machines/medium-router.yaml
sheets: [{ name: glass, material: glass-epoxy, thickness: 1.5, size: [300, 200] }]
plates: [{ name: bulge, drawing: 05-bulge-over-one.dxf, sheet: glass, units: mm, place: [{ x: 120, y: 90, rotationDeg: 25 }] }]
cutters: [{ name: stout, kind: two-flute, diameter: 2, fluteLength: 10, overhang: 18 }]
`;
  const read = (file: string): Uint8Array => fixtureBytes(`cases/${file}`);
  const { value, findings } = parseJob({ name: "job.yaml", text }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read, { keepUnproven: true });
}

describe.each([
  ["arcs", drawn(round())],
  ["starter", drawn(starterJob({}))],
  ["without arcs, ends with its last line", drawn(starterJob({ arcs: false, programEnd: "none" }))],
])("%s", (_, { plan, sheet, trace, cuts }) => {
  test("is understood, the spindle stands still, and nothing is below clearance", () => {
    expect(trace.findings).toEqual([]);
    expect(trace.ended).toBe(true);
    expect(trace.steps.some((s) => s.kind.startsWith("spindle-") && s.kind !== "spindle-off")).toBe(
      false,
    );
    expect(moves(trace)[0]?.z1).toBe(plan.cutting.clearance);
    for (const m of moves(trace)) expect(m.z1).toBe(plan.cutting.clearance);
    expect(trace.steps.filter(isFeed).every((m) => m.rpm === 0)).toBe(true);
  });

  test("goes round the sheet, each keep-out and the box of all that is cut", () => {
    expectNear(boxOf(moves(trace)), bounds(contourOf(sheet.outline)), 1e-3);
    const { text: _, line: from = 0 } =
      trace.comments.find((c) => c.text === "box of all cuts") ?? {};
    const box = boxOf(trace.steps.filter(isFeed).filter((m) => m.line > from));
    const cut = boxOf(cuts.flatMap((t) => t.steps.filter(isFeed)));
    const r = (plan.cutters[0]?.effectiveDiameter ?? 0) / 2;
    const touched = {
      min: { x: cut.min.x - r, y: cut.min.y - r },
      max: { x: cut.max.x + r, y: cut.max.y + r },
    };
    expectNear(box, touched, 1e-3);
    const rounds = trace.comments.filter((c) => c.text === "keep-out").length;
    expect(rounds).toBe(sheet.keepOut.length);
  });
});

test("a machine that moves less than the sheet is long is not sent round it", () => {
  const planned = starterJob({ travel: [180, 200, 60] });
  const { plan, trace } = drawn(planned);
  const box = boxOf(moves(trace));
  expect(box.max.x - box.min.x).toBeLessThanOrEqual(180);
  expect(plan.proof.proven).toBe(true);
  expect(planned.findings.map((f) => f.code)).toContain("border-beyond-travel");
  expect(trace.comments.map((c) => c.text).join(" ")).toContain("not gone round");
});
