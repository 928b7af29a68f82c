/**
 * The proof of a plan's programs, sheet by sheet; of each sheet half here and half wherever errands are done.
 */
import type { Outcome } from "../../finding/finding.ts";
import { dialectOf } from "../../program/read/dialect.ts";
import type { CuttingChecks } from "../../proof/checks/cutting.ts";
import type { Proof, TargetSheet } from "../../proof/proof.ts";
import { beginSheet, finishSheet, joinProofs, type SheetProof } from "../../proof/prove.ts";
import { HERE, type Runner } from "../work/errands.ts";
import { keyOf, type PlanMemory } from "../work/memory.ts";
import type { Made } from "./programs.ts";
import { proofInput, type TargetPlan } from "./target.ts";

export interface ProvingHelp {
  readonly memory: PlanMemory;
  readonly elsewhere: Runner;
}

export function proveAll(
  plan: TargetPlan,
  made: readonly Made[],
  { memory, elsewhere }: ProvingHelp,
): Outcome<Proof> {
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
    return memory.recall("proofs", key, () => begin(sheet, own));
  });
  function begin(sheet: TargetSheet, own: readonly Made[]): () => SheetProof {
    const errand = elsewhere === HERE ? undefined : sent(sheet, own);
    const half = beginSheet(input, sheet);
    let whole: SheetProof | undefined;
    return () => {
      whole ??= finishSheet(half, errand?.());
      return whole;
    };
  }
  function sent(sheet: TargetSheet, own: readonly Made[]): () => CuttingChecks | undefined {
    return elsewhere("cutting", {
      plan: { ...plan, sheets: plan.sheets.filter((s) => s.name === sheet.name) },
      sheet: sheet.name,
      programs: own.map((m) => ({ ...nameOf(m), text: m.written.text })),
      dialect: dialectOf(plan.machine),
    });
  }
  // Last first: errands are done in the order in which they were sent, and who fetches takes over what is not begun.
  const proofs = [...begun].reverse().map((finish) => finish());
  return joinProofs(input, proofs.reverse());
}

function nameOf({ file, program }: Made): { file: string; sheet: string; cutter: string } {
  return { file, sheet: program.sheet.name, cutter: program.cutter.name };
}

function readOf(made: Made): Parameters<typeof proofInput>[1][number] {
  return { ...nameOf(made), trace: made.trace };
}
