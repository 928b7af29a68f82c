/** The proof of an air run, from its text: above everything, the spindle still, the way the program's own. */
import type { Finding, Outcome } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayAir } from "../finding/say-air.ts";
import { isProofCode, reportProof } from "../finding/say-proof.ts";
import { angleOf, distance, sweepBetween } from "../geometry/segment.ts";
import { hypot } from "../geometry/trig.ts";
import type { PlanJson, SheetJson } from "../job/plan-json.ts";
import { proofInput, type ReadProgram } from "../job/planning/target.ts";
import { isFeed, isMove, type TraceMove, type TraceStep } from "../program/read/trace.ts";
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

/**
 * Feeds one by one: how far the air run is from the program, less what it was raised by. An arc may have become chords: the
 * controller knows no arcs, or takes no line as long as an arc with one more digit of height.
 */
function astray(steps: readonly TraceStep[], air: ProofProgram, raise: number): Worst {
  const { file, sheet } = air;
  const worst = mostOf("air-astray", "mm", ROUNDING);
  const risen = air.trace.steps.filter(isFeed);
  let k = 0;
  for (const own of steps.filter(isFeed)) {
    const chords = risen[k]?.arc === undefined ? chordsOf(own, risen, k, raise) : [];
    const offs = chords.length > 0 ? chords : [offMove(risen[k], own, raise)];
    for (const [i, off] of offs.entries()) {
      const line = risen[k + i]?.line ?? 1;
      offer(worst, off, () => ({ sheet, program: { file, line } }));
    }
    k += offs.length;
  }
  // One too few or too many is as far off as can be said.
  const line = risen.at(-1)?.line ?? 1;
  offer(worst, Math.abs(risen.length - k), () => ({ sheet, program: { file, line } }));
  return worst;
}

/** Of the moves from number `k` on that go an arc's way to its end, how far off each is; none where they do not come there. */
function chordsOf(
  { x0, y0, z0, x1, y1, z1, arc }: TraceMove,
  moves: readonly TraceMove[],
  k: number,
  raise: number,
): number[] {
  if (arc === undefined) return [];
  const { radius, sweep } = arc;
  const centre = { x: arc.cx, y: arc.cy };
  const offs: number[] = [];
  let turned = 0;
  let angle = angleOf(centre, { x: x0, y: y0 });
  for (let i = k; i < moves.length && Math.abs(turned) < Math.abs(sweep); i++) {
    const m = moves[i] as TraceMove;
    const end = { x: m.x1, y: m.y1 };
    const middle = { x: (m.x0 + m.x1) / 2, y: (m.y0 + m.y1) / 2 };
    const next = angleOf(centre, end);
    turned += sweepBetween(angle, next, sweep > 0);
    angle = next;
    const z = z0 + ((z1 - z0) * Math.min(Math.abs(turned), Math.abs(sweep))) / Math.abs(sweep);
    const across = [end, middle].map((p) => Math.abs(distance(centre, p) - radius));
    offs.push(Math.max(...across, Math.abs(m.z1 - raise - z)));
    const beyond = Math.abs(turned) > Math.abs(sweep) / 2;
    if (beyond && hypot(m.x1 - x1, m.y1 - y1) <= ROUNDING) return offs;
  }
  return [];
}

/** A move that is missing is told by the count. */
function offMove(m: TraceMove | undefined, own: TraceMove, raise: number): number {
  if (m === undefined) return 0;
  const ends = hypot(hypot(m.x1 - own.x1, m.y1 - own.y1), m.z1 - raise - own.z1);
  const bow = Math.abs((m.arc?.sweep ?? 0) - (own.arc?.sweep ?? 0)) * (own.arc?.radius ?? 0);
  return Math.max(ends, bow);
}

function findingOf({ code, worst, limit, unit, sheet, program, at }: ProofCheck): Finding {
  const place = { sheet, program, at };
  const data = { worst, limit, unit };
  if (code === "air-height" || code === "air-spindle" || code === "air-astray") {
    return say(code, data, place);
  }
  return reportProof(isProofCode(code) ? code : "program-errors", data, place);
}
