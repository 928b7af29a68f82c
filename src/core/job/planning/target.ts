/** plan.json as what a proof is given: nothing that is not in the file. */
import { radians } from "../../geometry/trig.ts";
import type { Trace } from "../../program/read/trace.ts";
import type {
  ProofInput,
  TargetCutter,
  TargetLimits,
  TargetPlate,
  TargetSheet,
} from "../../proof/proof.ts";
import type { PlacementJson, PlanJson, ProgramJson, SheetJson } from "../plan-json.ts";
import { contourOf, pointOf } from "./contour-json.ts";
import type { PlainCutter } from "./describe.ts";

/** A program as read back, with the sheet and the cutter that it is meant for. */
export interface ReadProgram {
  readonly file: string;
  readonly sheet: string;
  readonly cutter: string;
  readonly trace: Trace;
}

export type TargetPlan = Pick<
  PlanJson,
  "machine" | "sheets" | "cutters" | "cutting" | "programs" | "origin"
>;

export function proofInput(plan: TargetPlan, programs: readonly ReadProgram[]): ProofInput {
  const cutters = new Map(plan.cutters.map((c) => [c.name, targetCutter(c)]));
  return {
    machine: plan.machine,
    sheets: plan.sheets.map((sheet) => targetSheet(sheet, plan)),
    limits: limitsOf(plan),
    programs: programs.flatMap(({ cutter, ...rest }) => {
      const known = cutters.get(cutter);
      return known === undefined ? [] : [{ ...rest, cutter: known }];
    }),
  };
}

export function targetCutter(cutter: PlainCutter): TargetCutter {
  const { name, kind, effectiveDiameter, fluteLength, overhang, flutes, chip } = cutter;
  return { name, kind, effectiveDiameter, fluteLength, overhang, flutes, feedPerRev: chip };
}

/** What the limits follow from. */
interface LimitsPlan {
  readonly cutting: PlanJson["cutting"];
  readonly programs: readonly Pick<ProgramJson, "passDepth">[];
}

export function limitsOf(plan: LimitsPlan): TargetLimits {
  const { cutting } = plan;
  return {
    throughDepth: cutting.throughDepth,
    passDepth: plan.programs.reduce((most, p) => Math.max(most, p.passDepth), 0),
    finishStock: cutting.finish.stock,
    rampAngle: radians(cutting.rampDeg),
    clearance: cutting.clearance,
    // Plans from before there was one have none: their cutters rise to clearance every time.
    hop: Math.min(cutting.hop ?? cutting.clearance, cutting.clearance),
    tabs: cutting.tabs,
  };
}

export function targetSheet(sheet: SheetJson, plan: Pick<PlanJson, "origin">): TargetSheet {
  const [x, y] = sheet.originOffset;
  return {
    name: sheet.name,
    thickness: sheet.thickness,
    outline: contourOf(sheet.outline),
    margin: sheet.margin,
    keepOuts: sheet.keepOut.map((k) =>
      "diameter" in k
        ? { kind: "disc", at: pointOf(k.at), diameter: k.diameter }
        : { kind: "box", box: { min: pointOf(k.from), max: pointOf(k.to) } },
    ),
    plates: sheet.placements.map(targetPlate),
    tabs: sheet.tabs.map((t) => ({ ...t, at: pointOf(t.at) })),
    programZero: { x, y, z: plan.origin.z === "spoilboard" ? -sheet.thickness : 0 },
  };
}

function targetPlate(p: PlacementJson): TargetPlate {
  return {
    plate: p.plate,
    copy: p.copy,
    outer: contourOf(p.outer),
    features: p.features.map((f) => ({
      id: f.id,
      kind: f.kind,
      contour: contourOf(f.contour),
      depth: f.depth,
    })),
  };
}
