/**
 * The air run: any program of a plan, raised, with the spindle off, so that its way can be watched before
 * anything is cut.
 *
 * Promise: every move of the program is there, as much higher as is said, at its own feed; no tip comes nearer
 * to the sheet than the clearance; the spindle is never switched on. Proven from the text that comes out.
 */
import { type Finding, type Outcome, reporter, stops } from "../finding/finding.ts";
import { sayAir } from "../finding/say-air.ts";
import type { PlanJson } from "../job/plan-json.ts";
import type { ReadProgram } from "../job/planning/target.ts";
import { dialectOf } from "../program/read/dialect.ts";
import { readProgram } from "../program/read/read.ts";
import { isMove, type Trace, type TraceMove } from "../program/read/trace.ts";
import { BY_HAND, begin, finish, opening } from "../program/write/frame.ts";
import { trialWords, zWords } from "../program/write/head.ts";
import { type Lines, linesFor, rapidXY, rapidZ } from "../program/write/lines.ts";
import { comment, number } from "../program/write/words.ts";
import type { ProofCheck } from "../proof/proof.ts";
import { replay } from "../restart/replay.ts";
import { judgeAir } from "./judge.ts";

const say = reporter(sayAir);

export interface AirInput {
  readonly plan: PlanJson;
  readonly program: ReadProgram;
  /** The name that the air run will have. */
  readonly out: string;
  /** mm; absent: so that the deepest cut comes to the clearance. */
  readonly raise?: number | undefined;
}

export interface AirRun {
  readonly text: string;
  /** mm. */
  readonly raise: number;
  /** Lowest tip above the sheet's top, mm. */
  readonly lowest: number;
  readonly checks: readonly ProofCheck[];
  readonly proven: boolean;
}

export function airRun(input: AirInput): Outcome<AirRun | undefined> {
  const { plan, program, out } = input;
  const { trace } = program;
  const stop = (...findings: Finding[]) => ({ value: undefined, findings });
  const sheet = plan.sheets.find((s) => s.name === program.sheet);
  if (sheet === undefined || stops(trace.findings)) return stop(...trace.findings);
  const top = plan.origin.z === "spoilboard" ? sheet.thickness : 0;
  const { clearance } = plan.cutting;
  const deepest = lowestOf(trace);
  if (deepest === undefined) return stop(say("air-without-moves", { file: program.file }));
  const least = Math.max(0, top + clearance - deepest);
  // In whole hundredths, so that heights are easily compared with the program's own.
  const raise = input.raise ?? Math.ceil(least * 100 - 1e-9) / 100;
  if (raise < least - 1e-6) {
    const height = deepest + raise - top;
    return stop(
      say("air-too-low", { raise, least: Math.ceil(least * 100) / 100, height, clearance }),
    );
  }
  const text = airText(input, { raise, top });
  const air = readProgram(out, text, dialectOf(plan.machine));
  const judged = judgeAir({ plan, sheet, program, raise }, { ...program, file: out, trace: air });
  const lowest = (lowestOf(air) ?? 0) - top;
  return { value: { text, raise, lowest, ...judged.value }, findings: judged.findings };
}

function lowestOf({ steps }: Trace): number | undefined {
  const known = steps.filter(isMove).filter((m) => ((m.unknown ?? 0) & 4) === 0);
  if (known.length === 0) return undefined;
  return known.reduce((z, m) => Math.min(z, m.z0, m.z1), Number.POSITIVE_INFINITY);
}

function airText(
  { plan, program }: AirInput,
  { raise, top }: { readonly raise: number; readonly top: number },
): string {
  const { machine, cutting } = plan;
  const l = linesFor(machine, { x: 0, y: 0, z: -raise });
  const say = (text: string): void => {
    l.text.push(...comment(text, machine));
  };
  l.text.push(...opening(machine));
  const sheet = plan.sheets.find((s) => s.name === program.sheet);
  if (sheet !== undefined) for (const words of trialWords({ trial: plan.trial, sheet })) say(words);
  say(`${plan.name}: AIR RUN of ${program.file}, nothing is cut`);
  say(`all of it ${number(raise, 2)} mm higher, spindle off. Zero as for the program itself`);
  say(`sheet ${program.sheet}`);
  if (sheet !== undefined) say(zWords(plan.origin.z, sheet.thickness));
  say(`cutter ${program.cutter}`);
  say("hands clear: the machine moves. Look for clamps, cables and the ends of travel");
  begin(l);
  l.text.push("M5");
  const clearance = top + cutting.clearance;
  rapidZ(l, clearance);
  replayAll(l, program.trace, clearance);
  l.z = undefined;
  l.code = "";
  rapidZ(l, clearance);
  finish(l);
  return `${l.text.join("\n")}\n`;
}

/** Moves, stops and comments; the spindle's words and its dwells are left out. */
function replayAll(l: Lines, { steps, comments }: Trace, clearance: number): void {
  const begun = steps.findIndex(isMove);
  const from = steps[begun]?.line ?? 0;
  const words = comments.filter((c) => c.line >= from && !c.text.startsWith(BY_HAND));
  let said = 0;
  for (const [i, s] of steps.entries()) {
    while (said < words.length && (words[said]?.line ?? 0) <= s.line) {
      l.text.push(...comment(words[said++]?.text ?? "", l.machine));
    }
    if (s.kind === "stop" && !forSpindle(steps, i)) l.text.push("M0");
    if (!isMove(s)) continue;
    const unknown = unknownAfter(steps, i);
    if (unknown === 0) replay(l, s, clearance);
    else goThere(l, s, unknown);
  }
}

/** A stop at which a hand starts the spindle: right after the words that would. */
function forSpindle(steps: Trace["steps"], i: number): boolean {
  return steps[i - 1]?.kind === "spindle-on";
}

/** Axes that no word has named yet. */
function unknownAfter(steps: Trace["steps"], i: number): number {
  const next = steps.slice(i + 1, i + 8).find(isMove);
  return next?.unknown ?? 0;
}

function goThere(l: Lines, m: TraceMove, unknown: number): void {
  if ((unknown & 4) === 0) rapidZ(l, m.z1);
  if ((unknown & 3) === 0) rapidXY(l, { x: m.x1, y: m.y1 });
}
