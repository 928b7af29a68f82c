/** What a plan has done elsewhere changes no byte of it, and goes there and back as a copy. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parseJob } from "../../src/core/job/parse.ts";
import { type PlanHooks, type Planned, planJob } from "../../src/core/job/plan.ts";
import { doErrand } from "../../src/core/job/work/do-errand.ts";
import type { ErrandKind, Runner } from "../../src/core/job/work/errands.ts";
import { manyPlates } from "../bench/many-plates.ts";
import { readFrom } from "../support/read-files.ts";

type ReadFile = (name: string) => Uint8Array | undefined;

const demo: ReadFile = (name) => {
  try {
    return readFileSync(new URL(`../../fixtures/demo/${name}`, import.meta.url));
  } catch {
    return undefined;
  }
};

/**
 * As between threads: each side has its own copy. Notes what was sent, and on the way back whether it was fetched. Nothing
 * is back before that, so that all is worked ahead that can be.
 */
function copying(sent: ErrandKind[], fetched: ErrandKind[]): Runner {
  return (kind, asks) => {
    sent.push(kind);
    const answer = structuredClone(doErrand(kind, structuredClone(asks)));
    let isOut = true;
    return {
      fetch: () => {
        fetched.push(kind);
        isOut = false;
        return answer;
      },
      isOut: () => isOut,
    };
  };
}

function planned(read: ReadFile, hooks: PlanHooks): Planned {
  const text = new TextDecoder().decode(read("job.yaml"));
  const { value: job, findings } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(job, read, { keepUnproven: true, ...hooks });
}

const shown = ({ files, findings, stopped }: Planned): string =>
  JSON.stringify([[...files], findings, stopped]);

const JOBS: Readonly<Record<string, ReadFile>> = {
  "the demo: two sheets, a cutter worn out between": demo,
  "plates on three sheets": readFrom(manyPlates({ plates: 9, sheets: 3, seed: 4 })),
  "plates on one sheet": readFrom(manyPlates({ plates: 4, sheets: 1, seed: 5 })),
};

test.each(Object.entries(JOBS))("%s", (_name, read) => {
  const sent: ErrandKind[] = [];
  const fetched: ErrandKind[] = [];
  const away = planned(read, { elsewhere: copying(sent, fetched) });
  const here = planned(read, {});
  expect(shown(away) === shown(here)).toBe(true);
  const sheets = here.plan?.sheets.length ?? 0;
  expect(sheets).toBeGreaterThan(0);
  for (const list of [sent, fetched]) {
    expect(list.filter((kind) => kind === "stock")).toHaveLength(sheets);
    expect(list.filter((kind) => kind === "moves")).toHaveLength(sheets);
    expect(list.filter((kind) => kind === "offcuts")).toHaveLength(sheets);
    expect(list.filter((kind) => kind === "search")).toHaveLength(sheets);
  }
});
