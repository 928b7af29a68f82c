/**
 * The proof of a plan's programs, sheet by sheet; half of each sheet's is sent out before there is a plan.
 */
import type { Outcome } from "../../finding/finding.ts";
import { once } from "../../geometry/remember.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import type { CuttingChecks } from "../../proof/checks/cutting.ts";
import { checkMoves, type MovesChecks } from "../../proof/moves.ts";
import type { Proof, TargetSheet } from "../../proof/proof.ts";
import { beginSheet, finishSheet, joinProofs, type SheetProof } from "../../proof/prove.ts";
import { type SentMoves, sendable } from "../../proof/sent.ts";
import type { Tab } from "../../toolpath/cut.ts";
import type { ProgramHead } from "../../toolpath/route.ts";
import type { Job } from "../job.ts";
import { type Errand, HERE, type Runner } from "../work/errands.ts";
import { keyOf, type PlanMemory } from "../work/memory.ts";
import { plainCutter, sheetJson } from "./describe.ts";
import type { Draft, Made } from "./programs.ts";
import { limitsOf, proofInput, type TargetPlan, targetCutter, targetSheet } from "./target.ts";

/** The checks that go along with the moves, where they are made elsewhere. */
export interface SentChecks {
  /** A sheet's programs, once all of them are read back, and its tabs: those on the stock, which take longest. */
  readonly send: (drafts: readonly Draft[], tabs: readonly Tab[]) => void;
  /** The others of all sheets, for when there is time for them. */
  readonly sendRest: () => void;
  /** What is absent was not sent, or not begun. */
  readonly moves: (sheet: string) => MovesChecks | undefined;
  readonly stock: (sheet: string) => CuttingChecks | undefined;
}

/**
 * What is sent goes through plan.json's form too: a proof is given nothing that is not in the file. `heads` are those of
 * all the job's programs, as limits come from all of them.
 */
export function sentChecks(
  { cutting, origin, machine }: Job,
  layouts: readonly SheetLayout[],
  heads: () => readonly ProgramHead[],
  elsewhere: Runner,
): SentChecks {
  const sent = new Map<string, SentMoves>();
  const moves = new Map<string, Errand<MovesChecks | undefined>>();
  const stock = new Map<string, Errand<CuttingChecks | undefined>>();
  const absent = (): undefined => undefined;
  const send: SentChecks["send"] = (drafts, tabs) => {
    const name = drafts[0]?.program.sheet.name;
    const layout = layouts.find((l) => l.sheet.name === name);
    if (layout === undefined || elsewhere === HERE) return;
    const all = heads();
    const limits = limitsOf({ cutting, programs: all.map((head) => head.rates) });
    const sheet = targetSheet(sheetJson(layout, { tabs, origin }), { origin });
    // Of a text whose head lacks what is known late: these checks read no comment.
    const programs = drafts.map(({ file, program, trace }) => {
      const cutter = targetCutter(plainCutter(program.cutter, all));
      return { file, sheet: sheet.name, cutter, trace };
    });
    const asks = sendable({ machine, sheet, limits, programs });
    sent.set(sheet.name, asks);
    stock.set(sheet.name, elsewhere("stock", asks, absent));
  };
  return {
    send,
    sendRest: () => {
      for (const [name, asks] of sent) moves.set(name, elsewhere("moves", asks, absent));
    },
    moves: (sheet) => moves.get(sheet)?.fetch(),
    stock: (sheet) => stock.get(sheet)?.fetch(),
  };
}

/** Makes all checks that were not sent; what comes back waits for those and gives the verdict. */
export function beginProof(
  plan: TargetPlan,
  made: readonly Made[],
  { memory, sent }: { readonly memory: PlanMemory; readonly sent: SentChecks },
): () => Outcome<Proof> {
  const input = proofInput(plan, made.map(readOf));
  const begun = input.sheets.map((sheet) => {
    const own = made.filter((m) => m.program.sheet.name === sheet.name);
    const key = (): string => {
      const { cutters, limits, machine } = { ...input, cutters: plan.cutters.map((c) => c.name) };
      const programs = own.map((m) => [m.file, m.program.cutter.name, memory.id(m.trace)]);
      return keyOf(
        sheet,
        limits,
        machine,
        cutters,
        input.programs.map((p) => p.cutter),
        programs,
      );
    };
    return memory.recall("proofs", key, () => begin(sheet));
  });
  function begin(sheet: TargetSheet): Begun {
    const half = beginSheet(input, sheet);
    const moves = once(() => sent.moves(sheet.name) ?? checkMoves(half));
    const finish = once(() => finishSheet(half, { moves: moves(), stock: sent.stock(sheet.name) }));
    return { moves, finish };
  }
  return () => {
    // What nobody has begun is made here while the rest is on its way: from the last on, since the first are begun first.
    for (const { moves } of begun.toReversed()) moves();
    return joinProofs(
      input,
      begun.map(({ finish }) => finish()),
    );
  };
}

interface Begun {
  readonly moves: () => MovesChecks;
  readonly finish: () => SheetProof;
}

function readOf({ file, program, trace }: Made): Parameters<typeof proofInput>[1][number] {
  return { file, sheet: program.sheet.name, cutter: program.cutter.name, trace };
}
