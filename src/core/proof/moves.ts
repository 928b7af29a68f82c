/**
 * The checks of a sheet's proof that go along with the moves: each by itself, where they cut into plates and in which order;
 * and what they meet of the stock. They ask neither what is left at the end nor what stands in the text beside moves, so
 * that they can be made elsewhere meanwhile.
 */
import { bounds } from "../geometry/contour.ts";
import { type CuttingChecks, checkCutting } from "./checks/cutting.ts";
import { checkLowRapids } from "./checks/low-rapid.ts";
import { checkMotion } from "./checks/motion.ts";
import { checkOrder } from "./checks/order.ts";
import { checkOvercut } from "./checks/overcut.ts";
import type { Worst } from "./checks/worst.ts";
import type { SheetInput, TargetSheet } from "./proof.ts";
import { type Stroke, strokesOf } from "./removal/stroke.ts";
import { type Target, targetOf } from "./target.ts";

export interface MovesChecks {
  /** Of each move by itself. */
  readonly motion: readonly Worst[];
  readonly overcut: Worst;
  readonly order: Worst;
  readonly lowRapid: Worst;
}

/** A sheet's moves, and what they should make. */
export interface Moves {
  readonly input: SheetInput;
  readonly target: Target;
  readonly strokes: readonly Stroke[];
}

export function movesOf(input: SheetInput): Moves {
  return { input, target: targetOf(input.sheet), strokes: strokesOn(input) };
}

export function checkMoves({ input, target, strokes }: Moves): MovesChecks {
  const { sheet } = input;
  const motion = input.programs.flatMap((program, i) => {
    if (program.sheet !== sheet.name) return [];
    const own = strokes.filter((s) => s.program === i);
    return checkMotion(input, program, sheet, own);
  });
  return {
    motion,
    overcut: checkOvercut(input, target, strokes),
    order: checkOrder(input, target, strokes),
    lowRapid: checkLowRapids(input, target, strokes),
  };
}

export function checkStock(
  input: SheetInput,
  strokes: readonly Stroke[] = strokesOn(input),
): CuttingChecks {
  return checkCutting(input, strokes, boxOf(input.sheet));
}

function strokesOn(input: SheetInput): Stroke[] {
  const strokes: Stroke[] = [];
  input.programs.forEach((program, i) => {
    if (program.sheet !== input.sheet.name) return;
    for (const s of strokesOf(program, i, input.sheet)) strokes.push(s);
  });
  return strokes;
}

/** The sheet with a little room round it. */
export function boxOf(sheet: TargetSheet): readonly [number, number, number, number] {
  const { min, max } = bounds(sheet.outline);
  const room = 5;
  return [min.x - room, min.y - room, max.x + room, max.y + room];
}
