/** The job sheet's motion: what it carries is what the programs say, and nothing else runs. */
import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { decodeMotion } from "../../src/core/jobsheet/motion/decode.ts";
import { entriesOf } from "../../src/core/jobsheet/motion/entries.ts";
import { type PlayerData, runsOf } from "../../src/core/jobsheet/motion/player-data.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { starterPlan } from "../job/starter-plan.ts";
import { all, type Element, parseHtml, textOf } from "./parse-html.ts";
import { samplePlan } from "./sample-plan.ts";

const planned = starterPlan();
const root = parseHtml(planned.files.get("job-sheet.html") ?? "");

function scripts(of: Element): { code: string[]; data: PlayerData } {
  const found = all(of, "script");
  const data = found.filter((s) => s.attributes.get("type") === "application/json");
  return {
    code: found.filter((s) => !data.includes(s)).map(textOf),
    data: JSON.parse(textOf(data[0] ?? "")) as PlayerData,
  };
}

function policyOf(of: Element): Map<string, string> {
  const meta = all(of, "meta").find((m) => m.attributes.has("http-equiv"));
  const parts = (meta?.attributes.get("content") ?? "").split(";").map((p) => p.trim());
  return new Map(parts.map((p) => [p.split(" ")[0] ?? "", p.split(" ").slice(1).join(" ")]));
}

describe("a planned job's sheet", () => {
  const { code, data } = scripts(root);

  test("runs one script, which its policy names by hash; everything else is refused", () => {
    expect(code).toHaveLength(1);
    const hash = createHash("sha256")
      .update(code[0] ?? "", "utf8")
      .digest("base64");
    const policy = policyOf(root);
    expect(policy.get("script-src")).toBe(`'sha256-${hash}'`);
    expect(policy.get("default-src")).toBe("'none'");
    expect(all(root, "script").every((s) => !s.attributes.has("src"))).toBe(true);
  });

  test("carries every program to the byte, with its motion", () => {
    const { plan, files } = planned;
    expect(data.programs.map((p) => p.file)).toEqual(plan?.programs.map((p) => p.file));
    for (const program of data.programs) {
      expect(program.text).toBe(files.get(program.file));
      const m = decodeMotion(program.motion);
      const told = plan?.programs.find((p) => p.file === program.file);
      expect(m.end[m.count - 1]).toBeCloseTo(told?.seconds ?? 0, 3);
      expect(Math.max(...m.line)).toBeLessThanOrEqual(program.text.split("\n").length);
      const top = data.sheets[program.sheet]?.topZ ?? 0;
      expect(Math.min(...m.z1) - top).toBeCloseTo(told?.deepest ?? 0, 3);
    }
  });

  test("shows in its layout where the cutter goes in, and says so", () => {
    const layout = all(root, "section").find(
      (s) => s.attributes.get("aria-labelledby") === "layout",
    );
    expect(textOf(layout as Element)).toContain("cutter goes in");
  });
});

/** Two holes from above and a ramp from the sheet's side; what stays down or stays up is no entry. */
const ENTERING = `G21
G90
G0 Z6
X10 Y20
Z1
G1 Z-1 F100
X15
G0 Z6
X30.5 Y40
G1 Z-2
G0 Z0
G1 X50 Z-0.5
G1 X60 Z-1
G0 Z6
X10 Y20
G1 Z-3
G0 Z6
M30
`;

describe("entries", () => {
  const plan = samplePlan();
  const file = plan.programs[0]?.file ?? "";

  test("are where a move first gets below the sheet's top, each place once", () => {
    const runs = runsOf(plan, new Map([[file, ENTERING]]));
    expect(entriesOf(plan, runs)).toEqual({
      "carbon-4": [
        [10, 20],
        [30.5, 40],
      ],
      "carbon-2": [],
    });
  });

  test("are in the sheet's frame, and below its own top", () => {
    const sheets = plan.sheets.map((s) => ({ ...s, originOffset: [150, 100] as const }));
    const board: PlanJson = { ...plan, origin: { at: "centre", z: "spoilboard" }, sheets };
    const runs = runsOf(
      board,
      new Map([[file, ENTERING.replaceAll(/Z(-?[\d.]+)/g, (_, z) => `Z${Number(z) + 4}`)]]),
    );
    expect(entriesOf(board, runs)["carbon-4"]).toEqual([
      [160, 120],
      [180.5, 140],
    ]);
  });
});

describe("hostile names", () => {
  const evil = [
    `</script><script>alert(1)</script>`,
    `<!--<script>`,
    `]]>"><img src=x onerror=alert(1)>`,
    `__proto__`,
    `constructor`,
    `\u2028\u2029</SCRIPT\t>`,
  ];

  test.each(evil)("%s is data and text", (name) => {
    const sample = samplePlan();
    const plan: PlanJson = {
      ...sample,
      name,
      sheets: sample.sheets.map((s) => ({
        ...s,
        name,
        placements: s.placements.map((p) => ({ ...p, plate: name })),
      })),
      cutters: sample.cutters.map((c) => ({ ...c, name })),
      programs: sample.programs
        .slice(0, 1)
        .map((p) => ({ ...p, file: name, sheet: name, cutter: name })),
    };
    const text = `(${name})\n${ENTERING}`;
    const hostile = parseHtml(jobSheet(plan, { motion: runsOf(plan, new Map([[name, text]])) }));
    const { code, data } = scripts(hostile);
    expect(all(hostile, "script")).toHaveLength(2);
    expect(code).toEqual(scripts(root).code);
    expect(data.programs[0]).toMatchObject({ file: name, cutter: name, text });
    expect(data.sheets[0]?.name).toBe(name);
    expect(data.sheets[0]?.plates[0]?.name.startsWith(name)).toBe(true);
    expect(all(hostile, "img")).toEqual([]);
    for (const element of all(hostile)) {
      for (const attribute of element.attributes.keys()) expect(attribute).not.toMatch(/^on|^src/i);
    }
    expect(textOf(all(hostile, "h1")[0] as Element)).toBe(name);
  });
});
