/**
 * What a program says in words before it moves: for whoever stands at the machine with nothing else to read. Facts
 * first, then what to do before the start, then the order of the plates, which may be long.
 */
import { effectiveDiameter, type TrialMaterial } from "../../cutting/cutter.ts";
import { bounds } from "../../geometry/contour.ts";
import type { Box } from "../../geometry/shape.ts";
import { type Sheet, thicknessOf } from "../../layout/layout.ts";
import { type CutProgram, platesOf } from "../../toolpath/cut.ts";
import { opening } from "./frame.ts";
import { comment, number } from "./words.ts";
import type { Late, WriteContext } from "./write.ts";

/** Where the cutter's centre comes, program frame. */
export interface Reach {
  readonly box: Box | undefined;
  readonly lowest: number;
  /** Where it goes across at rapid. */
  readonly clearance: number;
}

const d = (value: number): string => number(value, 2);

export function headOf(program: CutProgram, context: WriteContext & Late, reach: Reach): string[] {
  const { machine, options, minutes } = context;
  const { sheet, cutter, rates, blocks } = program;
  const through = thicknessOf(sheet) + options.throughDepth;
  const words = [
    ...trialWords(program),
    `${context.job}: program ${context.number} of ${context.of}`,
    sheetWords(program),
    `cutter ${cutter.name}: ${cutter.kind} ${d(cutter.diameter)} mm, cuts ${d(effectiveDiameter(cutter))} mm`,
    `flutes at least ${d(through)} mm long`,
    ...zeroWords(sheet, context),
    "units mm, absolute, feed mm a minute",
    ...reachWords(sheet, context, reach),
    `spindle ${Math.round(rates.rpm)} rpm, feed ${Math.round(rates.feed)}, pass ${d(rates.passDepth)} mm`,
    ...(minutes === undefined ? [] : [`about ${number(minutes, 1)} minutes`]),
    ...changeWords(program, context),
    "before start: clamps outside the moves, cutter tight, zero checked",
    ...CAUTIONS,
    `plates in this order: ${platesOf(blocks)
      .map((b) => `${b.plate} ${b.copy}`)
      .join(", ")}`,
  ];
  return [...opening(machine), ...words.flatMap((text) => comment(text, machine))];
}

const CAUTIONS: readonly string[] = [
  "dust harms lungs and electronics: extract at the cutter, wear respirator and goggles",
  "local rules and the manual of the machine come first",
];

export interface ForTrial {
  readonly trial?: TrialMaterial | undefined;
  readonly sheet: { readonly material: string };
}

/** Before all else, where the program is for trial material. */
export function trialWords({ trial, sheet }: ForTrial): string[] {
  if (trial === undefined) return [];
  return [`TRIAL IN ${trial.toUpperCase()}: not for ${sheet.material}`];
}

export function sheetWords({ sheet, trial }: Pick<CutProgram, "sheet" | "trial">): string {
  const { min, max } = bounds(sheet.outline);
  const size = `${d(max.x - min.x)} by ${d(max.y - min.y)} mm`;
  const stock = trial === undefined ? sheet.material : `${trial} in place of ${sheet.material}`;
  return `sheet ${sheet.name}: ${stock} ${d(thicknessOf(sheet))} mm thick, ${size}`;
}

export function zeroWords(
  sheet: Sheet,
  { originAt, zAt }: Pick<WriteContext, "originAt" | "zAt">,
): string[] {
  return [`X0 Y0 is the ${originAt} of the sheet`, zWords(zAt, thicknessOf(sheet))];
}

/** Program Z0, and where the sheet's top is if not there. */
export function zWords(zAt: WriteContext["zAt"], thickness: number): string {
  return zAt === "spoilboard"
    ? `Z0 is the spoilboard: the sheet top is at Z${d(thickness)}`
    : "Z0 is the top of the sheet";
}

function reachWords(
  sheet: Sheet,
  { zAt, options }: WriteContext,
  { box, lowest, clearance }: Reach,
): string[] {
  const underside = zAt === "spoilboard" ? 0 : -thicknessOf(sheet);
  const below = underside - lowest;
  const where =
    below >= 0
      ? `${d(below)} mm below the underside of the sheet`
      : `${d(-below)} mm above the underside of the sheet`;
  if (box === undefined) return [];
  const { min, max } = box;
  return [
    `deepest Z${d(lowest)}, ${where}`,
    `clearance Z${d(clearance)}, ${d(options.clearance)} mm above the sheet`,
    ...(options.hop < options.clearance
      ? [`over whole sheet rapids pass ${d(options.hop)} mm above it`]
      : []),
    "box of all moves, by the middle of the cutter:",
    `X${d(min.x)} to ${d(max.x)}, Y${d(min.y)} to ${d(max.y)}, Z${d(lowest)} to ${d(clearance)}`,
  ];
}

function changeWords({ cutter, sheet }: CutProgram, { change, zAt }: WriteContext): string[] {
  const where =
    zAt === "spoilboard"
      ? "on the spoilboard beside the sheet"
      : "on the top of the sheet where nothing is cut";
  // Points, since a semicolon begins a comment of another kind.
  const anew = `Sheet stays fixed, X0 Y0 stays. Set Z0 anew with it ${where}`;
  if (change === "cutter") return [`CUTTER CHANGE: put in ${cutter.name}. ${anew}`];
  if (change === "worn") return [`NEW CUTTER: put in a new ${cutter.name}. ${anew}`];
  const fixed = `first: fix sheet ${sheet.name}, put in ${cutter.name}`;
  return [`${fixed}, set X0 Y0, then Z0 with this cutter`];
}
