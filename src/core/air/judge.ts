/** The proof of an air run, from its text: above everything, the spindle still, the way the program's own. */
import type { Finding, Outcome } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayAir } from "../finding/say-air.ts";
import { isProofCode, reportProof } from "../finding/say-proof.ts";
import { hypot } from "../geometry/trig.ts";
import type { PlanJson, SheetJson } from "../job/plan-json.ts";
import { proofInput, type ReadProgram } from "../job/planning/target.ts";
import { isFeed, isMove, type TraceStep } from "../program/read/trace.ts";
import { checkMotion } from "../proof/checks/motion.ts";
import { checkProfile } from "../proof/checks/profile.ts";
import { checkOf, leastOf, mostOf, offer, type Worst } from "../proof/checks/worst.ts";
import type { ProofCheck, ProofProgram, TargetSheet } from "../proof/proof.ts";
import { strokesOf } from "../proof/removal/stroke.ts";

const say = reporter(sayAir);

/** Heights and places are rounded to the last decimal twice, mm. */
const ROUNDING = 0.003;

/** What asks for a spindle that turns has no place here. */
const OF_CUTTING: ReadonlySet<string> = new Set([
  "feed-without-spindle",
  "spindle-slow",
  "spin-up",
]);

export interface Judged {
  readonly checks: readonly ProofCheck[];
  readonly proven: boolean;
}

interface Of {
  readonly plan: PlanJson;
  readonly sheet: SheetJson;
  /** The program that is run in the air. */
  readonly program: ReadProgram;
  readonly raise: number;
}

export function judgeAir({ plan, sheet, program, raise }: Of, air: ReadProgram): Outcome<Judged> {
  const input = proofInput({ ...plan, sheets: [sheet] }, [air]);
  const read = input.programs[0];
  const target = input.sheets[0];
  if (read === undefined || target === undefined) {
    return { value: { checks: [], proven: false }, findings: [] };
  }
  const worsts = [
    ...checkProfile(input, read, target.programZero.z),
    ...checkMotion(input, read, target, strokesOf(read, 0, target)),
  ].filter((w) => !OF_CUTTING.has(w.code));
  worsts.push(
    height(read, target, input.limits.clearance),
    still(read),
    astray(program.trace.steps, read, raise),
  );
  const checks = worsts.map(checkOf);
  const findings = checks.filter((c) => !c.passed).map(findingOf);
  return { value: { checks, proven: findings.length === 0 }, findings };
}

function height({ file, trace }: ProofProgram, target: TargetSheet, clearance: number): Worst {
  const worst = leastOf("air-height", "mm", clearance - ROUNDING);
  for (const m of trace.steps.filter(isMove)) {
    const z = Math.min(m.z0, m.z1) + target.programZero.z;
    offer(worst, z, () => ({ sheet: target.name, program: { file, line: m.line } }));
  }
  return worst;
}

function still({ file, sheet, trace }: ProofProgram): Worst {
  const worst = mostOf("air-spindle", "times", 0);
  offer(worst, 0, () => ({}));
  let times = 0;
  for (const s of trace.steps) {
    const turns =
      s.kind === "spindle-on" || s.kind === "spindle-reversed" || (isMove(s) && s.rpm > 0);
    if (turns) offer(worst, ++times, () => ({ sheet, program: { file, line: s.line } }));
  }
  return worst;
}

/** Feeds one by one: how far the air run is from the program, less what it was raised by. */
function astray(steps: readonly TraceStep[], air: ProofProgram, raise: number): Worst {
  const { file, sheet } = air;
  const worst = mostOf("air-astray", "mm", ROUNDING);
  const own = steps.filter(isFeed);
  const risen = air.trace.steps.filter(isFeed);
  const line = risen[risen.length - 1]?.line ?? 1;
  // One too few or too many is as far off as can be said.
  const apart = Math.abs(own.length - risen.length);
  offer(worst, apart, () => ({ sheet, program: { file, line } }));
  for (const [i, m] of risen.entries()) {
    const o = own[i];
    if (o === undefined) break;
    const ends = hypot(hypot(m.x1 - o.x1, m.y1 - o.y1), m.z1 - raise - o.z1);
    const bow = Math.abs((m.arc?.sweep ?? 0) - (o.arc?.sweep ?? 0)) * (o.arc?.radius ?? 0);
    offer(worst, Math.max(ends, bow), () => ({ sheet, program: { file, line: m.line } }));
  }
  return worst;
}

function findingOf({ code, worst, limit, unit, sheet, program, at }: ProofCheck): Finding {
  const place = { sheet, program, at };
  const data = { worst, limit, unit };
  if (code === "air-height" || code === "air-spindle" || code === "air-astray") {
    return say(code, data, place);
  }
  return reportProof(isProofCode(code) ? code : "program-errors", data, place);
}
