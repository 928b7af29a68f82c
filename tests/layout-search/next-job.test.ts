/** Sheets of a whole plan: several of a kind, and a second job on what the first one left, both proven. */
import { readFileSync } from "node:fs";
import process from "node:process";
import { describe, expect, it } from "vitest";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

const DEMO = new URL("../../fixtures/demo/", import.meta.url);

function demoFile(name: string): Uint8Array | undefined {
  try {
    return readFileSync(new URL(name, DEMO));
  } catch {
    return undefined;
  }
}

const HEAD = `weftcut: 1
name: first
machine: small-router.yaml
cutters:
  - { name: router-2, kind: diamond-router, diameter: 2, fluteLength: 8, overhang: 14, flutes: 2 }
`;
const SHEET = "material: carbon-woven, thickness: 2, margin: 6, fibreDeg: 30";

/** What is not among `files` is the demo's. */
function planned(text: string, files: ReadonlyMap<string, string> = new Map()): Planned {
  const read = (name: string): Uint8Array | undefined => {
    const own = files.get(name);
    return own === undefined ? demoFile(name) : new TextEncoder().encode(own);
  };
  const { value, findings } = parseJob({ name: "job.yaml", text }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read);
}

const FIRST = `${HEAD}
sheets: [{ name: plate, size: [200, 120], ${SHEET} }]
plates: [{ name: top, drawing: top-plate.dxf, sheet: plate, fibreDeg: 90, gap: 6 }]
`;

const NEXT = (outline: string): string => `${HEAD}
sheets: [{ name: rest, outline: ${outline}, ${SHEET} }]
plates: [{ name: side, drawing: camera-side.dxf, sheet: rest, fibreDeg: 90, count: 3, gap: 6 }]
`;

describe("a job's offcut", () => {
  it("is the next job's sheet, and both are proven", () => {
    const first = planned(FIRST);
    expect(first.plan?.proof.proven).toBe(true);
    const [offcut, ...smaller] = first.plan?.sheets[0]?.offcuts ?? [];
    if (offcut === undefined) throw new Error("nothing is left");
    expect(smaller.every((o) => o.area <= offcut.area)).toBe(true);
    const drawing = first.files.get(offcut.file) ?? "";
    const next = planned(NEXT(offcut.file), new Map([[offcut.file, drawing]]));
    expect(next.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(next.plan?.proof.proven).toBe(true);
    expect(next.plan?.sheets[0]?.placements.length).toBe(3);
    expect(next.plan?.sheets[0]?.fibreDeg).toBe(30);
  });
});

describe.runIf(process.env["WEFTCUT_LONG"] !== undefined)("six of the demo", () => {
  it("is proven on three sheets of each kind", () => {
    const demo = new TextDecoder().decode(demoFile("job.yaml"));
    const text = demo
      .replaceAll(/^ {4}price: (46|27)$/gm, "$&\n    count: 10")
      .replaceAll(/^ {4}count: ([24])$/gm, (_, n) => `    count: ${6 * Number(n)}`)
      .replaceAll(/^ {4}drawing: (bottom|top)-plate.dxf$/gm, "$&\n    count: 6");
    const { plan } = planned(text);
    expect(plan?.proof.proven).toBe(true);
    expect(plan?.sheets.reduce((n, s) => n + s.placements.length, 0)).toBe(48);
    expect(plan?.sheets.map((s) => s.name)).toEqual([
      "carbon-4",
      "carbon-4 2",
      "carbon-4 3",
      "carbon-2",
      "carbon-2 2",
      "carbon-2 3",
    ]);
  });
});
