/**
 * The way through the house, and the only file that knows its order: drawings → plates → layout → cuts →
 * programs → read back → time and proof → plan.json and the papers.
 *
 * Promise: same job and same drawings, same bytes. Nothing throws on bad input: what is wrong comes back
 * as findings, and a finding of severity `stop` means that no file is made.
 */
import { runChecks, unusedOverrides, withoutToldTwice } from "../check/run.ts";
import { type Cutter, effectiveDiameter, type TrialMaterial } from "../cutting/cutter.ts";
import { type Finding, stops } from "../finding/finding.ts";
import { bounds } from "../geometry/contour.ts";
import type { Box } from "../geometry/shape.ts";
import { jobSheet } from "../jobsheet/sheet.ts";
import type { SheetLayout } from "../layout/layout.ts";
import { layoutDxf, layoutSvg } from "../layout/picture.ts";
import { layPlates } from "../layout/place.ts";
import { type TraceTime, timeOf } from "../motion/time.ts";
import { type Feedback, NO_FEEDBACK } from "../motion/wear/feedback.ts";
import { type Part, splitPrograms } from "../motion/wear/split.ts";
import { dialectOf } from "../program/read/dialect.ts";
import { readProgram } from "../program/read/read.ts";
import type { Trace } from "../program/read/trace.ts";
import { writeBorder } from "../program/write/border.ts";
import { prepareProgram, type WriteContext, type Written } from "../program/write/write.ts";
import type { Proof } from "../proof/proof.ts";
import { prove } from "../proof/prove.ts";
import type { CutProgram, Routed } from "../toolpath/cut.ts";
import { route } from "../toolpath/route.ts";
import { fileSlug, type Job } from "./job.ts";
import type {
  CutterJson,
  FitJson,
  PlanJson,
  ProgramJson,
  SearchJson,
  SheetJson,
} from "./plan-json.ts";
import { checkInput, fitsJson } from "./planning/checking.ts";
import { cutterJson, programZero, sheetJson } from "./planning/describe.ts";
import { gather, type ReadFile } from "./planning/gather.ts";
import { type FiledOffcut, offcutFile, offcutsFor } from "./planning/offcuts.ts";
import {
  type ReckonedCutter,
  type ReckonedProgram,
  type Run,
  reckon,
  splitInput,
} from "./planning/reckon.ts";
import { type LayoutWish, searching } from "./planning/search.ts";
import { slowedFindings } from "./planning/slowed.ts";
import { proofInput } from "./planning/target.ts";
import { trialFindings } from "./planning/trial.ts";

export interface PlanHooks {
  /** How hard the layout searches, and what ends the search before its steps do. */
  readonly layout?: LayoutWish;
  readonly progress?: (stage: string) => void;
  /** What the cutters' ledger says: measured times and lives, and what cutters have behind them. */
  readonly feedback?: Feedback;
  /** Feeds and speeds for this, to try the job in it. */
  readonly trial?: TrialMaterial | undefined;
  /** Write programs that failed their proof too, under unproven/. */
  readonly keepUnproven?: boolean;
}

export interface Planned {
  /** Absent where a stage was stopped before there was a plan. */
  readonly plan: PlanJson | undefined;
  /** Everything for the output folder, by name; empty where stopped. */
  readonly files: ReadonlyMap<string, string>;
  readonly findings: readonly Finding[];
  readonly stopped: boolean;
}

/** One program, written, read back and timed. */
interface Made {
  readonly file: string;
  readonly program: CutProgram;
  readonly written: Written;
  readonly trace: Trace;
  readonly time: TraceTime;
  readonly part: Part;
}

export function planJob(job: Job, read: ReadFile, hooks: PlanHooks = {}): Planned {
  const say = hooks.progress ?? (() => undefined);
  const findings: Finding[] = [];
  const stop = (): Planned => ({ plan: undefined, files: new Map(), findings, stopped: true });

  say("reading drawings");
  const gathered = gather(job, read);
  findings.push(...gathered.findings);
  if (stops(findings)) return stop();
  say("checking");
  findings.push(...runChecks(checkInput(job, gathered), job.checks));
  if (stops(findings)) return stop();

  say("laying out");
  const search = searching(hooks.layout ?? {}, say);
  const laid = layPlates({
    sheets: gathered.sheets,
    plates: gathered.orders,
    widestCutter: Math.max(...job.cutters.filter(goesRound).map(effectiveDiameter), 0),
    search: search.options,
  });
  findings.push(...laid.findings, ...search.findings());
  findings.push(...runChecks(checkInput(job, gathered, laid.value), job.checks));
  if (stops(findings)) return stop();

  say("routing");
  const routed = route({
    layouts: laid.value,
    cutters: job.cutters.map(({ place: _place, ...cutter }) => cutter),
    options: job.cutting,
    machine: job.machine,
    trial: hooks.trial,
  });
  findings.push(...trialFindings(hooks.trial, laid.value));
  findings.push(...withoutToldTwice(findings, routed.findings));
  findings.push(...unusedOverrides(job.checks, findings));
  if (stops(findings)) return stop();
  const feedback = hooks.feedback ?? NO_FEEDBACK;
  const split = splitPrograms(splitInput(job, routed.programs, feedback));
  findings.push(...split.findings);

  say("writing programs");
  const made = makePrograms(job, split.parts);
  say("proving");
  const offcuts = laid.value.map((layout) => offcutsFor(layout, job));
  const asked = { search: search.json(), fits: fitsJson(gathered.changes) };
  const extras = { made, feedback, before: findings, offcuts, ...asked };
  const plan = describePlan(job, laid.value, routed, extras);
  if (stops(plan.findings) && hooks.keepUnproven !== true) {
    return { plan, files: new Map(), findings: plan.findings, stopped: true };
  }
  say("drawing the job sheet");
  return {
    plan,
    files: filesOf(job, plan, laid.value, { made, offcuts: offcuts.flat() }),
    findings: plan.findings,
    stopped: stops(plan.findings),
  };
}

function goesRound(cutter: Cutter): boolean {
  return cutter.kind !== "drill";
}

/** Read twice: the minutes in the head are known once the program has been read and timed. */
function makePrograms(job: Job, parts: readonly Part[]): Made[] {
  const dialect = dialectOf(job.machine);
  return parts.map((part, i) => {
    const { program } = part;
    const file = `${program.trial === undefined ? "" : "trial-"}${String(i + 1).padStart(2, "0")}-${fileSlug(program.sheet.name)}-${fileSlug(program.cutter.name)}.nc`;
    const change = changeBefore(parts[i - 1], part);
    const context = { ...contextFor(job, program, i + 1, parts.length), change };
    const draft = prepareProgram(program, context);
    const minutes = timeOf(readProgram(file, draft.text(), dialect), job.machine).seconds / 60;
    const blockLines = draft.blockLines(minutes);
    const written = { ...draft, text: draft.text(minutes), blockLines };
    const trace = readProgram(file, written.text, dialect);
    return { file, program, written, trace, time: timeOf(trace, job.machine), part };
  });
}

function changeBefore(last: Part | undefined, part: Part): WriteContext["change"] {
  if (last?.program.sheet !== part.program.sheet) return "sheet";
  if (last.program.cutter.name !== part.program.cutter.name) return "cutter";
  return part.newCutter ? "worn" : "sheet";
}

function contextFor(job: Job, { sheet }: CutProgram, number: number, of: number): WriteContext {
  return {
    job: job.name,
    machine: job.machine,
    options: job.cutting,
    originAt: job.origin.at === "centre" ? "centre" : `${job.origin.at.replace("-", " ")} corner`,
    zAt: job.origin.z,
    zero: programZero(sheet, job.origin),
    number,
    of,
  };
}

interface Programs {
  readonly made: readonly Made[];
  readonly feedback: Feedback;
  /** What the stages before had to say. */
  readonly before: readonly Finding[];
  readonly search: SearchJson;
  readonly fits: readonly FitJson[] | undefined;
  /** Sheet by sheet. */
  readonly offcuts: readonly (readonly FiledOffcut[])[];
}

function describePlan(
  job: Job,
  layouts: readonly SheetLayout[],
  routed: Routed,
  { made, feedback, before, search, fits, offcuts }: Programs,
): PlanJson {
  const { origin } = job;
  const sheets = layouts.map((layout, i) =>
    sheetJson(layout, { tabs: routed.tabs, origin, offcuts: offcuts[i] ?? [] }),
  );
  const runs = made.map((m): Run => ({ ...m.part, ...m, blockLines: m.written.blockLines }));
  const reckoned = reckon({ job, layouts, runs, feedback });
  const programs = made.map((m, i) => programJson(m, reckoned.programs[i]));
  const cutters = cuttersOf(job, routed.programs, reckoned.cutters);
  const target = {
    machine: job.machine,
    origin: job.origin,
    cutting: job.cutting,
    sheets,
    cutters,
    programs,
  };
  const proof = proofOf(target, made);
  const trial = made[0]?.program.trial;
  const timed = made.flatMap((m) => [
    ...slowedFindings(m.file, m.written.slowed, job.machine),
    ...m.trace.findings,
    ...m.time.findings,
  ]);
  return {
    weftcut: 1,
    name: job.name,
    units: "mm",
    ...target,
    throughDepth: job.cutting.throughDepth,
    ...(trial === undefined ? {} : { trial }),
    search,
    ...(fits === undefined ? {} : { fits }),
    findings: [...before, ...timed, ...proof.findings],
    proof: proof.value,
    estimate: reckoned.estimate,
  };
}

function proofOf(
  target: Parameters<typeof proofInput>[0],
  made: readonly Made[],
): { value: Proof; findings: readonly Finding[] } {
  const read = made.map(({ file, program, trace }) => ({
    file,
    sheet: program.sheet.name,
    cutter: program.cutter.name,
    trace,
  }));
  return prove(proofInput(target, read));
}

function programJson(
  { file, program, written, time }: Made,
  reckoned: ReckonedProgram | undefined,
): ProgramJson {
  const { rates } = program;
  return {
    file,
    sheet: program.sheet.name,
    cutter: program.cutter.name,
    blocks: written.blocks,
    seconds: time.seconds,
    cutMetres: time.cutMetres,
    rapidMetres: time.rapidMetres,
    rpm: Math.round(rates.rpm),
    feed: Math.round(rates.feed),
    passDepth: rates.passDepth,
    plungeFeed: rates.plungeFeed,
    rampFeed: rates.rampFeed,
    finishFeed: rates.finishFeed,
    deepest: written.deepest,
    plates: program.blocks.map(({ plate, copy }) => ({ plate, copy })),
    ...reckoned,
    rateSteps: rates.steps,
    limitedBy: rates.limitedBy,
  };
}

function cuttersOf(
  job: Job,
  programs: readonly CutProgram[],
  reckoned: ReadonlyMap<string, ReckonedCutter>,
): CutterJson[] {
  return job.cutters.flatMap((cutter) => {
    const own = reckoned.get(cutter.name);
    return own === undefined ? [] : [cutterJson(cutter, programs, own)];
  });
}

function filesOf(
  job: Job,
  plan: PlanJson,
  layouts: readonly SheetLayout[],
  { made, offcuts }: { made: readonly Made[]; offcuts: readonly FiledOffcut[] },
): Map<string, string> {
  const files = new Map(offcuts.map((offcut) => offcutFile(offcut, job)));
  for (const m of made) files.set(m.file, m.written.text);
  for (const [i, layout] of layouts.entries()) {
    const sheet = plan.sheets[i] as SheetJson;
    const name = fileSlug(sheet.name);
    const mine = made.filter((m) => m.program.sheet.name === sheet.name);
    files.set(`layout-${name}.svg`, layoutSvg(sheet, plan.origin));
    files.set(`layout-${name}.dxf`, layoutDxf(sheet));
    const first = mine[0];
    if (first !== undefined) {
      const { trial } = first.program;
      const context = { ...contextFor(job, first.program, 1, 1), trial };
      files.set(
        `border-${name}.nc`,
        writeBorder(layout.sheet, cutBox(first.program, mine), context),
      );
    }
  }
  files.set("job-sheet.html", jobSheet(plan));
  files.set("plan.json", `${JSON.stringify(plan, null, 1)}\n`);
  return files;
}

/** Box of all that the cutters of one sheet touch, sheet frame. */
function cutBox({ sheet }: CutProgram, made: readonly Made[]): Box | undefined {
  const boxes = made.flatMap(({ program }) => {
    const r = effectiveDiameter(program.cutter) / 2;
    return program.blocks
      .flatMap((b) => b.cuts)
      .flatMap((c) => [c.start, ...c.moves.map((m) => m.to)])
      .map((p) => ({ min: { x: p.x - r, y: p.y - r }, max: { x: p.x + r, y: p.y + r } }));
  });
  if (boxes.length === 0) return undefined;
  const edge = bounds(sheet.outline);
  return boxes.reduce(
    (all, b) => ({
      min: { x: Math.min(all.min.x, b.min.x), y: Math.min(all.min.y, b.min.y) },
      max: { x: Math.max(all.max.x, b.max.x), y: Math.max(all.max.y, b.max.y) },
    }),
    { min: edge.max, max: edge.min },
  );
}
