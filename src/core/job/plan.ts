/**
 * The way through the house, and the only file that knows its order: drawings → plates → layout → cuts →
 * programs → read back → time and proof → plan.json and the papers.
 *
 * Promise: same job and same drawings, same bytes. Nothing throws on bad input: what is wrong comes back
 * as findings, and a finding of severity `stop` means that no file is made.
 */
import { runChecks, unusedOverrides, withoutToldTwice } from "../check/run.ts";
import type { TrialMaterial } from "../cutting/cutter.ts";
import { type Finding, stops } from "../finding/finding.ts";
import { beginJobSheet } from "../jobsheet/sheet.ts";
import type { SheetLayout } from "../layout/layout.ts";
import { layoutDxf, layoutSvg } from "../layout/picture.ts";
import { type Feedback, NO_FEEDBACK } from "../motion/wear/feedback.ts";
import { writeBorder } from "../program/write/border.ts";
import type { CutProgram, Routed } from "../toolpath/cut.ts";
import { fileSlug, type Job } from "./job.ts";
import type { CutterJson, FitJson, PlanJson, SearchJson, SheetJson } from "./plan-json.ts";
import { type ReckonedCutter, type Run, reckon } from "./planning/account/reckon.ts";
import { checkInput, fitsJson } from "./planning/checking.ts";
import { cutSheets, homesFor, workAhead } from "./planning/cutting.ts";
import { cutterJson, sheetJson, withOffcuts } from "./planning/describe.ts";
import { type Gathered, gather, type ReadFile } from "./planning/gather.ts";
import { beginLaying } from "./planning/laying/laying.ts";
import { type FiledOffcut, offcutFile, offcutsFor } from "./planning/laying/offcuts.ts";
import { type LayoutWish, orderSteps } from "./planning/laying/search.ts";
import { contextFor, cutBox, type Made, programJson } from "./planning/programs.ts";
import { beginProof } from "./planning/proving.ts";
import { borderFindings, slowedFindings } from "./planning/served.ts";
import { trialFindings } from "./planning/trial.ts";
import { HERE, type Runner } from "./work/errands.ts";
import { keyOf, NO_MEMORY, type PlanMemory } from "./work/memory.ts";

export interface PlanHooks {
  /** How hard the layout searches, and what ends the search before its steps do. */
  readonly layout?: LayoutWish;
  /** For each cut, what its order may cost; absent: by the layout's effort. 0: the nearest next. */
  readonly orderSteps?: number;
  readonly progress?: (stage: string) => void;
  /** What the cutters' ledger says: measured times and lives, and what cutters have behind them. */
  readonly feedback?: Feedback;
  /** Feeds and speeds for this, to try the job in it. */
  readonly trial?: TrialMaterial | undefined;
  /** Write programs that failed their proof too, under unproven/. */
  readonly keepUnproven?: boolean;
  /** Of earlier plans: what has not changed since is taken from it. */
  readonly memory?: PlanMemory;
  /** Has part of the work done in another thread meanwhile. */
  readonly elsewhere?: Runner;
  /** Called as soon as plates lie on sheets, also where that stops the job: tabs and offcuts are missing. */
  readonly laid?: (sheets: readonly SheetJson[]) => void;
  /** Called once all that was done elsewhere is back. */
  readonly back?: (() => void) | undefined;
  /** Called before the proof, for who wants to draw meanwhile; what is left of the sheets is still missing. */
  readonly drafted?: (draft: DraftPlan) => void;
}

export type DraftPlan = Omit<PlanJson, "proof">;

export interface Planned {
  /** Absent where a stage was stopped before there was a plan. */
  readonly plan: PlanJson | undefined;
  /** Everything for the output folder, by name; empty where stopped. */
  readonly files: ReadonlyMap<string, string>;
  readonly findings: readonly Finding[];
  readonly stopped: boolean;
}

export function planJob(job: Job, read: ReadFile, hooks: PlanHooks = {}): Planned {
  const { progress: say = () => undefined, memory = NO_MEMORY, elsewhere = HERE } = hooks;
  const findings: Finding[] = [];
  const stop = (): Planned => ({ plan: undefined, files: new Map(), findings, stopped: true });

  say("reading drawings");
  const gathered = gather(job, read, memory);
  findings.push(...gathered.findings);
  if (stops(findings)) return stop();
  const laying = beginLaying(job, gathered, { layout: hooks.layout, memory, elsewhere, say });
  say("checking");
  findings.push(...checked(job, gathered, undefined, memory));
  if (stops(findings)) return stop();

  say("laying out");
  const homes = homesFor(job, hooks.trial, memory);
  workAhead(homes, gathered, laying.isOut);
  const laid = laying.finish();
  const layouts = laid.value;
  hooks.laid?.(layouts.map((layout) => sheetJson(layout, { tabs: [], origin: job.origin })));
  findings.push(...laid.findings, ...checked(job, gathered, layouts, memory));
  if (stops(findings)) return stop();
  const offcuts = layouts.map((layout) => offcutsFor(layout, job, { memory, elsewhere }));

  const feedback = hooks.feedback ?? NO_FEEDBACK;
  const steps = hooks.orderSteps ?? orderSteps(hooks.layout ?? {});
  const how = { homes, orderSteps: steps, feedback, memory, elsewhere, say };
  const cut = cutSheets(job, layouts, how);
  const { routed, sent } = cut;
  findings.push(...trialFindings(hooks.trial, layouts), ...borderFindings(layouts, job.machine));
  findings.push(...withoutToldTwice(findings, routed.findings));
  findings.push(...unusedOverrides(job.checks, findings));
  if (stops(findings)) return stop();
  findings.push(...cut.worn());
  const made = cut.finish();
  const { search } = laid;
  const fits = fitsJson(gathered.changes);
  const drafted = { made, feedback, before: findings, search, fits, memory };
  const draft = draftPlan(job, layouts, routed, drafted);
  hooks.drafted?.(draft);
  say("proving");
  const proving = beginProof(draft, made, { memory, sent });
  // All that needs no proof comes first: what was sent is waited for last.
  const left = offcuts.map((fetch) => fetch());
  const sheets = draft.sheets.map((sheet, i) => withOffcuts(sheet, left[i] ?? []));
  const files = drawnFiles(job, sheets, layouts, { made, offcuts: left.flat() });
  const { estimate, ...rest } = draft;
  const motion = made.map(({ file, written, trace, time }) => ({
    file,
    text: written.text,
    trace,
    time,
  }));
  const sheetWith = beginJobSheet({ ...draft, sheets }, { motion });
  const proof = proving();
  hooks.back?.();
  const plan: PlanJson = {
    ...rest,
    sheets,
    findings: [...draft.findings, ...proof.findings],
    proof: proof.value,
    estimate,
  };
  if (stops(plan.findings) && hooks.keepUnproven !== true) {
    return { plan, files: new Map(), findings: plan.findings, stopped: true };
  }
  say("drawing the job sheet");
  files.set("job-sheet.html", sheetWith(plan));
  files.set("plan.json", `${JSON.stringify(plan, null, 1)}\n`);
  return {
    plan,
    files,
    findings: plan.findings,
    stopped: stops(plan.findings),
  };
}

/** Rules of plates, or with layouts, rules of the layout. */
function checked(
  job: Job,
  gathered: Gathered,
  layouts: readonly SheetLayout[] | undefined,
  { recall, id }: PlanMemory,
): readonly Finding[] {
  const { cutters, machine, cutting, props, checks } = job;
  const laid = layouts === undefined ? undefined : id(layouts);
  const key = (): string => keyOf(id(gathered), laid, cutters, machine, cutting, props, checks);
  return recall("checks", key, () => runChecks(checkInput(job, gathered, layouts), checks));
}

interface Programs {
  readonly made: readonly Made[];
  readonly feedback: Feedback;
  /** What the stages before had to say. */
  readonly before: readonly Finding[];
  readonly search: SearchJson;
  readonly fits: readonly FitJson[] | undefined;
  readonly memory: PlanMemory;
}

/** All of the plan that there is before the proof, but for what is left of the sheets. */
function draftPlan(
  job: Job,
  layouts: readonly SheetLayout[],
  routed: Routed,
  { made, feedback, before, search, fits, memory }: Programs,
): DraftPlan {
  const { origin } = job;
  const sheets = layouts.map((layout) => sheetJson(layout, { tabs: routed.tabs, origin }));
  const runs = made.map((m): Run => ({ ...m.part, ...m, blockLines: m.written.blockLines }));
  const reckoned = reckon({ job, layouts, runs, feedback, memory });
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
    machine: job.machine,
    origin,
    cutting: job.cutting,
    sheets,
    cutters: cuttersOf(job, routed.programs, reckoned.cutters),
    programs: made.map((m, i) => programJson(m, reckoned.programs[i])),
    throughDepth: job.cutting.throughDepth,
    ...(trial === undefined ? {} : { trial }),
    search,
    ...(fits === undefined ? {} : { fits }),
    findings: [...before, ...timed],
    estimate: reckoned.estimate,
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

/** Every file but the papers on all of it. */
function drawnFiles(
  job: Job,
  sheets: readonly SheetJson[],
  layouts: readonly SheetLayout[],
  { made, offcuts }: { made: readonly Made[]; offcuts: readonly FiledOffcut[] },
): Map<string, string> {
  const files = new Map(offcuts.map((offcut) => offcutFile(offcut, job)));
  for (const m of made) files.set(m.file, m.written.text);
  for (const [i, layout] of layouts.entries()) {
    const sheet = sheets[i] as SheetJson;
    const name = fileSlug(sheet.name);
    const mine = made.filter((m) => m.program.sheet.name === sheet.name);
    files.set(`layout-${name}.svg`, layoutSvg(sheet, job.origin));
    files.set(`layout-${name}.dxf`, layoutDxf(sheet));
    const first = mine[0];
    if (first !== undefined) {
      const { trial } = first.program;
      const context = { ...contextFor(job, first.program), trial };
      files.set(
        `border-${name}.nc`,
        writeBorder(layout.sheet, cutBox(mine, context.zero), context),
      );
    }
  }
  return files;
}
