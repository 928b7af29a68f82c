/**
 * The border program: the spindle stands still while the machine draws the sheet's border, its
 * keep-outs and the box of all cuts at clearance height, so that zero, clamps and travel can be seen
 * before anything is cut.
 */
import { bounds, joinBoxes, rectangle } from "../../geometry/contour.ts";
import { circle } from "../../geometry/segment.ts";
import type { Box, Contour } from "../../geometry/shape.ts";
import { type Sheet, thicknessOf } from "../../layout/layout.ts";
import type { Machine } from "../../machine/machine.ts";
import type { CutProgram } from "../../toolpath/cut.ts";
import { begin, finish, opening } from "./frame.ts";
import { sheetWords, trialWords, zeroWords } from "./head.ts";
import { feedMove, type Lines, linesFor, rapidXY, rapidZ } from "./lines.ts";
import { comment, number } from "./words.ts";
import type { WriteContext } from "./write.ts";

/** Slow enough to follow by eye, and never above the machine's own, mm/min; common practice, no source. */
const WALK = 1500;

export function writeBorder(
  sheet: Sheet,
  cuts: Box | undefined,
  { trial, ...context }: Omit<WriteContext, "number"> & Pick<CutProgram, "trial">,
): string {
  const { machine, options } = context;
  const z = context.zAt === "spoilboard" ? -thicknessOf(sheet) : 0;
  const l = linesFor(machine, { ...context.zero, z });
  const say = (text: string): void => {
    l.text.push(...comment(text, machine));
  };
  l.text.push(...opening(machine));
  for (const words of trialWords({ sheet, trial })) say(words);
  say(`${context.job}: border of sheet ${sheet.name}, spindle off, nothing is cut`);
  for (const words of [sheetWords({ sheet, trial }), ...zeroWords(sheet, context)]) say(words);
  say(`all of it at clearance Z${number(options.clearance - z, 2)}`);
  say("hands clear: the machine moves, the cutter stays at clearance height");
  begin(l);
  l.text.push("M5");
  rapidZ(l, options.clearance);
  if (borderFits(sheet, machine)) {
    say("border of the sheet");
    walk(l, sheet.outline, options.clearance);
  } else say("the border of the sheet is not gone round: the machine does not reach so far");
  for (const k of sheet.keepOuts) {
    const ring = k.kind === "disc" ? round(k.at, k.diameter) : boxContour(k.box);
    if (!borderFits(sheet, machine) && !fits(joinBoxes(bounds(ring), cuts), machine)) continue;
    say("keep-out");
    walk(l, ring, options.clearance);
  }
  if (cuts !== undefined) {
    say("box of all cuts");
    walk(l, boxContour(cuts), options.clearance);
  }
  finish(l);
  return `${l.text.join("\n")}\n`;
}

/** Whether the machine can go round the sheet; where it cannot, only what it cuts has to be in reach. */
export function borderFits(sheet: Sheet, machine: Machine): boolean {
  return fits(bounds(sheet.outline), machine);
}

function fits({ min, max }: Box, { travel }: Machine): boolean {
  return max.x - min.x <= travel[0] && max.y - min.y <= travel[1];
}

function round(at: { x: number; y: number }, diameter: number): Contour {
  return { segments: [circle(at, diameter / 2, true)] };
}

function boxContour(box: Box): Contour {
  return rectangle(box.min.x, box.min.y, box.max.x, box.max.y);
}

function walk(l: Lines, contour: Contour, z: number): void {
  const first = contour.segments[0];
  if (first === undefined) return;
  const feed = Math.min(WALK, l.machine.maxFeed[0], l.machine.maxFeed[1]);
  rapidXY(l, first.from);
  for (const s of contour.segments) {
    const arc = s.kind === "arc" ? { centre: s.centre, sweep: s.sweep } : undefined;
    feedMove(l, { to: s.to, z, arc, feed });
  }
}
