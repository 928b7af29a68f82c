/** Programs, whoever wrote them, read for a plan: how, and which of its sheets and cutters they are for. */
import { basename } from "node:path";
import type { PlanJson } from "../../core/job/plan-json.ts";
import type { ReadProgram } from "../../core/job/planning/target.ts";
import { dialectOf } from "../../core/program/read/dialect.ts";
import { readProgram } from "../../core/program/read/read.ts";
import type { Trace } from "../../core/program/read/trace.ts";

export function traceOf(plan: PlanJson, file: string, text: string): Trace {
  return readProgram(file, text, dialectOf(plan.machine));
}

export type Meant = Pick<ReadProgram, "sheet" | "cutter">;

export interface Said {
  readonly sheet?: string;
  readonly cutter?: string;
}

/** By what was said, by the file's name, by what its comments name, or because there is no choice. */
export function meantFor(
  plan: PlanJson,
  file: string,
  trace: Trace,
  said: Said,
): Meant | undefined {
  const planned = plan.programs.find((p) => p.file === basename(file));
  const text = trace.comments.map((c) => c.text).join("\n");
  const sheet = said.sheet ?? planned?.sheet ?? onlyNamed(plan.sheets, text);
  const cutter = said.cutter ?? planned?.cutter ?? onlyNamed(plan.cutters, text);
  const known =
    plan.sheets.some((s) => s.name === sheet) && plan.cutters.some((c) => c.name === cutter);
  return known && sheet !== undefined && cutter !== undefined ? { sheet, cutter } : undefined;
}

function onlyNamed(items: readonly { readonly name: string }[], text: string): string | undefined {
  if (items.length === 1) return items[0]?.name;
  const named = items.filter(({ name }) => text.toLowerCase().includes(name.toLowerCase()));
  return named.length === 1 ? named[0]?.name : undefined;
}
