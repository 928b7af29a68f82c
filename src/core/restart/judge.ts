/** The proof of a restart, against what the interrupted program left of the sheet. */
import type { Finding, Outcome } from "../finding/finding.ts";
import type { SheetJson } from "../job/plan-json.ts";
import { proofInput, type ReadProgram } from "../job/planning/target.ts";
import { dialectOf } from "../program/read/dialect.ts";
import { readProgram } from "../program/read/read.ts";
import { isMove, type Trace, type TraceStep } from "../program/read/trace.ts";
import type { Proof } from "../proof/proof.ts";
import { prove } from "../proof/prove.ts";
import type { RestartInput } from "./restart.ts";
import type { TakeUp } from "./take-up.ts";

export interface Judged {
  readonly proofs: readonly [least: Proof, most: Proof];
  readonly findings: readonly Finding[];
}

export interface ToJudge {
  /** The interrupted one. */
  readonly program: ReadProgram;
  readonly sheet: SheetJson;
  readonly takeUp: TakeUp;
  readonly text: string;
}

export function judge({ plan, out, programs }: RestartInput, it: ToJudge): Judged {
  const { program, sheet, takeUp, text } = it;
  const trace = readProgram(out, text, dialectOf(plan.machine));
  const taken: ReadProgram = { ...program, file: out, trace };
  const top = plan.origin.z === "spoilboard" ? sheet.thickness : 0;
  const proveAfter = (open: number): Outcome<Proof> => {
    const cut = interrupted(program.trace, open, top + plan.cutting.clearance);
    const cuts = cut.steps.some((s) => s.kind === "feed");
    const mine = cuts ? [{ ...program, trace: cut }, taken] : [taken];
    const all = programs
      .filter((p) => p.sheet === sheet.name)
      .flatMap((p) => (p.file === program.file ? mine : [p]));
    return prove(proofInput({ ...plan, sheets: [sheet] }, all));
  };
  const least = proveAfter(takeUp.step);
  const most = unordered(proveAfter(takeUp.open));
  const said = new Set(least.findings.map((f) => f.code));
  return {
    proofs: [least.value, most.value],
    findings: [...least.findings, ...most.findings.filter((f) => !said.has(f.code))],
  };
}

/** A program up to a step, then up and still, as the sheet is left. */
export function interrupted(trace: Trace, open: number, clearance: number): Trace {
  const steps: TraceStep[] = trace.steps.slice(0, open);
  const last = steps.findLast(isMove);
  const next = trace.steps.slice(open).find(isMove);
  const line = last?.line ?? 1;
  if (last !== undefined) {
    const { x1: x0, y1: y0, z1: z0, rpm } = last;
    const up = { x0, y0, z0, x1: x0, y1: y0, z1: Math.max(z0, clearance), arc: undefined };
    steps.push({ kind: "rapid", line, ...up, feed: 0, rpm, startKnown: true });
  }
  steps.push({ kind: "spindle-off", line, rpm: 0 }, { kind: "end", line, rpm: 0 });
  const brokenOff = last && next && { after: last, before: next };
  return { ...trace, steps, brokenOff, ended: true };
}

/** Of the order of cuts: what has been cut before what, and over what the cutter goes low. */
const ORDER: ReadonlySet<string> = new Set(["inner-after-outline", "low-rapid-room"]);

/**
 * Where the controller had gone on to the outline and the take-up is in a hole before it, the hole is cut
 * twice through air: a question of order that the least state answers.
 */
function unordered({ value, findings }: Outcome<Proof>): Outcome<Proof> {
  const checks = value.checks.filter((c) => !ORDER.has(c.code));
  const proven = checks.every((c) => c.passed);
  return {
    value: { ...value, checks, proven },
    findings: findings.filter((f) => !ORDER.has(f.code)),
  };
}
