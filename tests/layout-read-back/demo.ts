/** The demo's job, and how far what was read lies from what was drawn. */
import { readFileSync } from "node:fs";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import type { ContourJson, PlanJson } from "../../src/core/job/plan-json.ts";
import { type Gathered, gather } from "../../src/core/job/planning/gather.ts";

const DEMO = new URL("../../fixtures/demo/", import.meta.url);

type Files = ReadonlyMap<string, string>;

function reader(files: Files): (name: string) => Uint8Array | undefined {
  return (name) => {
    const own = files.get(name);
    if (own !== undefined) return new TextEncoder().encode(own);
    try {
      return readFileSync(new URL(name, DEMO));
    } catch {
      return undefined;
    }
  };
}

export function demoJob(): string {
  return readFileSync(new URL("job.yaml", DEMO), "utf8");
}

function parsed(text: string, files: Files): NonNullable<ReturnType<typeof parseJob>["value"]> {
  const { value, findings } = parseJob({ name: "job.yaml", text }, reader(files));
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return value;
}

export function planned(text: string, seed = 1, files: Files = new Map()): Planned {
  return planJob(parsed(text, files), reader(files), { layout: { seed } });
}

export function gathered(text: string, files: Files = new Map()): Gathered {
  return gather(parsed(text, files), reader(files));
}

type Sheets = PlanJson["sheets"];

/** The furthest that a corner of a plate or of one of its openings lies from where it was, mm. */
export function apart(a: Sheets, b: Sheets): number {
  let most = 0;
  for (const [s, sheet] of a.entries()) {
    const others = b[s]?.placements ?? [];
    for (const p of sheet.placements) {
      const q = others.find((o) => o.plate === p.plate && o.copy === p.copy);
      if (q === undefined || q.inner.length !== p.inner.length) return Number.POSITIVE_INFINITY;
      const theirs = [q.outer, ...q.inner].map(corners);
      for (const mine of [p.outer, ...p.inner].map(corners)) {
        most = Math.max(most, Math.min(...theirs.map((ring) => ringsApart(mine, ring))));
      }
    }
  }
  return most;
}

type Ring = readonly (readonly [number, number])[];

/** A circle has no corner, but a middle. */
function corners({ start, segments }: ContourJson): Ring {
  const [only] = segments;
  if (segments.length === 1 && only !== undefined && "centre" in only && only.centre !== undefined)
    return [only.centre];
  return [start, ...segments.map((s) => s.to)];
}

/** Hausdorff's distance of the corners, one way: a ring of fewer corners is another ring. */
function ringsApart(a: Ring, b: Ring): number {
  if (a.length !== b.length) return Number.POSITIVE_INFINITY;
  return Math.max(...a.map(([x, y]) => Math.min(...b.map(([u, v]) => Math.hypot(x - u, y - v)))));
}
