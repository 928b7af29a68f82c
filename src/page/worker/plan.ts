/** A job's text planned as the command line plans it: the same job, the same findings, the same bytes. */
import type { Finding } from "../../core/finding/finding.ts";
import { withJobPlaces } from "../../core/job/job-places.ts";
import { parseJob, type ReadBeside, textOf } from "../../core/job/parse.ts";
import { type PlanHooks, planJob } from "../../core/job/plan.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import { type Drawings, drawingReader } from "../../core/job/planning/gather.ts";
import { searchCeiling } from "../../core/job/planning/laying/search.ts";
import { planMemory } from "../../core/job/work/memory.ts";
import { type Feedback, feedbackOf, NO_FEEDBACK } from "../../core/motion/wear/feedback.ts";
import { LEDGER_NAME, ledgerFindings, readLedger } from "../../core/motion/wear/ledger.ts";
import type { Proof } from "../../core/proof/proof.ts";
import type { JobText, Laid } from "./protocol.ts";

export interface Outcome {
  readonly plan: PlanJson | undefined;
  readonly findings: readonly Finding[];
  readonly stopped: boolean;
  readonly files: ReadonlyMap<string, string>;
}

export interface Watching {
  readonly progress: (stage: string) => void;
  readonly laid: (laid: Laid) => void;
  /** All but the proof, which says of itself that nothing is proven yet. */
  readonly drafted: (plan: PlanJson, findings: readonly Finding[]) => void;
}

/** What has not changed since an earlier plan is taken from here. */
const memory = planMemory();

const NOT_YET: Proof = {
  proven: false,
  checks: [],
  overcutMm: 0,
  leftMm2: 0,
  cornerMm: 0,
  cornerMm2: 0,
};

/** Drawings as the plan reads them, and without reading them twice. */
export function drawingsIn(read: ReadBeside): Drawings {
  return drawingReader(read, memory);
}

export function planned(file: JobText, read: ReadBeside, watching: Watching): Outcome {
  const { value: job, findings } = parseJob(file, read);
  if (job === undefined) return { plan: undefined, findings, stopped: true, files: new Map() };
  const ledger = ledgerOf(job.ledger, read);
  const saying = (more: readonly Finding[]) => [
    ...findings,
    ...ledger.findings,
    ...withJobPlaces(more, job),
  ];
  const hooks: PlanHooks = {
    progress: watching.progress,
    laid: (sheets) => watching.laid({ sheets, origin: job.origin, cutters: [] }),
    drafted: (draft) => watching.drafted({ ...draft, proof: NOT_YET }, saying(draft.findings)),
    memory,
    feedback: ledger.feedback,
    layout: { effort: "quick", over: searchCeiling("quick", () => performance.now()) },
  };
  const made = planJob(job, read, hooks);
  return { ...made, findings: saying(made.findings) };
}

function ledgerOf(
  named: string | undefined,
  read: ReadBeside,
): { feedback: Feedback; findings: readonly Finding[] } {
  const file = named ?? LEDGER_NAME;
  const bytes = read(file);
  if (bytes === undefined) return { feedback: NO_FEEDBACK, findings: [] };
  const text = textOf(file, bytes);
  if (typeof text !== "string") return { feedback: NO_FEEDBACK, findings: [text] };
  const ledger = readLedger(text);
  return { feedback: feedbackOf(ledger), findings: ledgerFindings(file, ledger) };
}
