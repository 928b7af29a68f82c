/** The proof of an air run, from its text: above everything, the spindle still, the way the program's own. */
import type { Finding, Outcome } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayAir } from "../finding/say-air.ts";
import { isProofCode, reportProof } from "../finding/say-proof.ts";
import { atan2, hypot } from "../geometry/trig.ts";
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
    const chords = risen[k]?.arc === undefined ? chordsOf(own, risen, k) : 0;
    const next = k + Math.max(1, chords);
    for (const m of risen.slice(k, next)) {
      const off = chords === 0 ? offMove(m, own, raise) : offArc(m, own, raise);
      offer(worst, off, () => ({ sheet, program: { file, line: m.line } }));
    }
    k = next;
  }
  // One too few or too many is as far off as can be said.
  const line = risen.at(-1)?.line ?? 1;
  offer(worst, Math.abs(risen.length - k), () => ({ sheet, program: { file, line } }));
  return worst;
}

/** How many moves from number `k` on go the way of an arc: to its end, once they are beyond its middle; 0: none do. */
function chordsOf({ x1, y1, arc }: TraceMove, moves: readonly TraceMove[], k: number): number {
  let turned = 0;
  for (let i = k; i < moves.length && arc !== undefined; i++) {
    const m = moves[i] as TraceMove;
    const [ax, ay, bx, by] = [m.x0 - arc.cx, m.y0 - arc.cy, m.x1 - arc.cx, m.y1 - arc.cy];
    turned += atan2(ax * by - ay * bx, ax * bx + ay * by);
    const beyond = Math.abs(turned) > Math.abs(arc.sweep) / 2;
    if (beyond && hypot(m.x1 - x1, m.y1 - y1) <= ROUNDING) return i - k + 1;
  }
  return 0;
}

function offMove(m: TraceMove, own: TraceMove, raise: number): number {
  const ends = hypot(hypot(m.x1 - own.x1, m.y1 - own.y1), m.z1 - raise - own.z1);
  const bow = Math.abs((m.arc?.sweep ?? 0) - (own.arc?.sweep ?? 0)) * (own.arc?.radius ?? 0);
  return Math.max(ends, bow);
}

/** A chord's end and middle from an arc, and from the height that the arc has there. */
function offArc(m: TraceMove, own: TraceMove, raise: number): number {
  if (own.arc === undefined) return offMove(m, own, raise);
  const { cx, cy, radius, sweep } = own.arc;
  const end = Math.abs(hypot(m.x1 - cx, m.y1 - cy) - radius);
  const middle = Math.abs(hypot((m.x0 + m.x1) / 2 - cx, (m.y0 + m.y1) / 2 - cy) - radius);
  const [ax, ay, bx, by] = [own.x0 - cx, own.y0 - cy, m.x1 - cx, m.y1 - cy];
  const angle = Math.abs(atan2(ax * by - ay * bx, ax * bx + ay * by));
  const whole = Math.abs(sweep);
  // Half turns and more: the angle is the same on both ways round, and at the end there is none left.
  const heights = [angle, 2 * Math.PI - angle, whole].map((turned) => {
    return Math.abs(own.z0 + ((own.z1 - own.z0) * Math.min(turned, whole)) / whole + raise - m.z1);
  });
  return Math.max(end, middle, Math.min(...heights));
}

function findingOf({ code, worst, limit, unit, sheet, program, at }: ProofCheck): Finding {
  const place = { sheet, program, at };
  const data = { worst, limit, unit };
  if (code === "air-height" || code === "air-spindle" || code === "air-astray") {
    return say(code, data, place);
  }
  return reportProof(isProofCode(code) ? code : "program-errors", data, place);
}
