/**
 * A program that takes up an interrupted one, proven like any other.
 *
 * Two states of the sheet bound what may lie on the table: *least*, all before the take-up is cut, and
 * *most*, all up to the interrupted line is cut too. The proof is the whole one of the sheet, with the
 * interrupted program as far as it went, the restart, and the sheet's other programs. Of *most* only the
 * order of cuts is not asked: what is cut twice there meets air.
 */
import { type Finding, type Outcome, reporter, stops } from "../finding/finding.ts";
import { sayRestart } from "../finding/say-restart.ts";
import { radians, tan } from "../geometry/trig.ts";
import type { PlanJson, ProgramJson, SheetJson } from "../job/plan-json.ts";
import type { ReadProgram } from "../job/planning/target.ts";
import type { Machine } from "../machine/machine.ts";
import { plateStarts } from "../motion/by-plate.ts";
import { isMove, type Trace, type TraceMove } from "../program/read/trace.ts";
import { trialWords, zWords } from "../program/write/head.ts";
import { plainAscii } from "../program/write/words.ts";
import type { Proof } from "../proof/proof.ts";
import { mostZOn } from "../toolpath/follow/feed.ts";
import { type Entry, entryTo, flatLength } from "./entry.ts";
import { judge } from "./judge.ts";
import { type Interrupted, type TakeUp, takeUpOf } from "./take-up.ts";
import { restartText } from "./write.ts";

const say = reporter(sayRestart);

/** Above the sheet, down to where the cutter comes at rapid, where the program has no such height itself; mm. */
const APPROACH = 1;

export interface RestartInput {
  readonly plan: PlanJson;
  /** The interrupted program, as the plan names it. */
  readonly file: string;
  /** The name that the restart will have. */
  readonly out: string;
  /** All programs of its sheet that there are, in the order in which they are run. */
  readonly programs: readonly ReadProgram[];
  readonly at: Interrupted;
}

export interface Restart {
  readonly text: string;
  /** Of the interrupted program: taken up at this line; up to which line it may have been cut. */
  readonly line: number;
  readonly cutTo: number;
  /** Program frame: where the entry goes down, and where the take-up begins. */
  readonly above: readonly [number, number];
  readonly at: readonly [number, number, number];
  /** What may be cut a second time, and what is cut in all, m. */
  readonly twiceMetres: number;
  readonly metres: number;
  /** Plates of this program that are left out, and those that are cut. */
  readonly finished: readonly string[];
  readonly left: readonly string[];
  /** Lines of the restart with its setup and entry, from 1. */
  readonly look: readonly [first: number, last: number];
  /** Against the sheet with all before the take-up cut, and with all before `cutTo` cut. */
  readonly proofs: readonly [least: Proof, most: Proof];
}

export function restart(input: RestartInput): Outcome<Restart | undefined> {
  const { plan, file, programs, at } = input;
  const stop = (...findings: Finding[]) => ({ value: undefined, findings });
  const known = plan.programs.find((p) => p.file === file);
  const program = programs.find((p) => p.file === file);
  const sheet = plan.sheets.find((s) => s.name === known?.sheet);
  if (known === undefined || program === undefined || sheet === undefined) {
    const names = plan.programs.map((p) => p.file).join(", ");
    return stop(say("restart-not-of-plan", { file, known: names }));
  }
  if (stops(program.trace.findings)) return stop(...program.trace.findings);
  const trace = withPlates(program.trace, known, plan.machine);
  const takeUp = takeUpOf(trace, at, known.passDepth);
  if ("code" in takeUp) return stop(takeUp);
  const first = trace.steps[takeUp.step] as TraceMove;
  if (!first.startKnown) return stop(say("restart-place-unknown", { line: first.line }));
  const made = write({ input, known, sheet, trace, takeUp });
  const judged = judge(input, { program, sheet, takeUp, text: made.text });
  const fresh = trace.steps.slice(0, takeUp.step).every((s) => s.kind !== "feed");
  const from = say("restart-from-start", { line: first.line });
  return {
    value: { ...made, ...describe(trace, takeUp), proofs: judged.proofs },
    findings: [...(fresh ? [from] : []), ...judged.findings],
  };
}

/** Where the controller takes no comments, the plan says where plates begin. */
function withPlates(trace: Trace, { plates }: ProgramJson, { comments }: Machine): Trace {
  if (comments !== "none" || trace.comments.length > 0) return trace;
  const named = plates.flatMap(({ plate, copy, line }) =>
    line === undefined ? [] : [{ line, text: `plate ${plainAscii(plate)} copy ${copy}` }],
  );
  return { ...trace, comments: named };
}

interface Work {
  readonly input: RestartInput;
  readonly known: ProgramJson;
  readonly sheet: SheetJson;
  readonly trace: Trace;
  readonly takeUp: TakeUp;
}

function write({ input, known, sheet, trace, takeUp }: Work) {
  const { plan, file, at } = input;
  const top = plan.origin.z === "spoilboard" ? sheet.thickness : 0;
  const clearance = top + plan.cutting.clearance;
  const { entry, next } = entryFor(trace, takeUp, {
    top,
    clearance,
    rampDeg: plan.cutting.rampDeg,
    mostZ: mostZOn(plan.machine),
  });
  const { finished, left } = platesOf(trace, next.line);
  const head = [
    ...trialWords({ trial: plan.trial, sheet }),
    `${plan.name}: restart of ${file}`,
    "plate" in at
      ? `interrupted in plate ${at.plate}, of which nothing is taken as cut`
      : `interrupted at line ${at.line}; taken up at line ${next.line}`,
    `sheet ${sheet.name}: ${sheet.material} ${sheet.thickness} mm`,
    `cutter ${known.cutter}`,
    zWords(plan.origin.z, sheet.thickness),
    `X0 Y0 is the ${plan.origin.at.replace("-", " ")} of the sheet`,
    "units mm, absolute, feed mm a minute",
    finished.length > 0
      ? `finished, not cut again: ${finished.join(", ")}`
      : "no plate is finished",
    `cut now: ${left.join(", ")}`,
  ];
  const { step } = takeUp;
  const { text, look } = restartText({
    trace,
    step,
    entry,
    machine: plan.machine,
    clearance,
    head,
  });
  return { text, look, finished, left, above: [entry.start.x, entry.start.y] as const };
}

function entryFor(
  { steps }: Trace,
  takeUp: TakeUp,
  over: {
    readonly top: number;
    readonly clearance: number;
    readonly rampDeg: number;
    readonly mostZ: number;
  },
): { readonly entry: Entry; readonly next: TraceMove } {
  const next = steps[takeUp.step] as TraceMove;
  const way = steps.slice(takeUp.run, takeUp.step).filter(isMove);
  const began = (steps[takeUp.run] as TraceMove).z0;
  const approach = Math.min(over.clearance, began > over.top ? began : over.top + APPROACH);
  const slope = tan(radians(over.rampDeg));
  return { entry: entryTo(next, way, { top: over.top, approach, slope, mostZ: over.mostZ }), next };
}

function platesOf(trace: Trace, line: number): { finished: string[]; left: string[] } {
  const starts = plateStarts(trace);
  const current = starts.findLastIndex((s) => s.line <= line);
  const name = ({ plate, copy }: (typeof starts)[number]): string => `${plate} ${copy}`;
  const from = Math.max(0, current);
  // Where plates are not cut one by one, one may have been begun before and go on after.
  const left = [...new Set(starts.slice(from).map(name))];
  const finished = [...new Set(starts.slice(0, from).map(name))].filter((n) => !left.includes(n));
  return { finished, left };
}

function describe({ steps }: Trace, { step, open }: TakeUp) {
  const next = steps[step] as TraceMove;
  const metres = (from: number, to: number): number =>
    steps
      .slice(from, to)
      .reduce((sum, s) => (s.kind === "feed" ? sum + flatLength(s) / 1000 : sum), 0);
  return {
    line: next.line,
    cutTo: steps[open - 1]?.line ?? next.line,
    at: [next.x0, next.y0, next.z0] as const,
    twiceMetres: metres(step, open),
    metres: metres(step, steps.length),
  };
}
