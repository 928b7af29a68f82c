/**
 * How a program begins and ends on one machine, and how its spindle is started: what every program of ours
 * has in common, whether it cuts, draws the border, takes up an interrupted one or runs in the air.
 *
 * The user's own start lines come first, so that every state that a cut relies on is stated after them.
 */
import { HAND_S, type Machine, rpmPerS } from "../../machine/machine.ts";
import type { Lines } from "./lines.ts";
import { comment, dwell } from "./words.ts";

/** Comments that begin so are for who starts the spindle by hand: an air run has no use for them. */
export const BY_HAND = "spindle by hand";

/** Lines before even the first comment. */
export function opening({ percentLines }: Machine): readonly string[] {
  return percentLines === true ? ["%"] : [];
}

export function begin(l: Lines): void {
  const { startLines = [], workOffset } = l.machine;
  l.text.push(...startLines, "G21", "G90", "G17", "G94");
  if (workOffset !== "none") l.text.push(workOffset);
}

/** The cutter is up by now. */
export function finish(l: Lines): void {
  const { endLines = [], programEnd = "M2", percentLines } = l.machine;
  l.text.push("M5", ...endLines);
  if (programEnd !== "none") l.text.push(programEnd);
  if (percentLines === true) l.text.push("%");
}

/**
 * S and M3 stand where a hand starts the spindle, too: they do nothing there, and whoever reads the program knows
 * what is to turn, and how fast.
 */
export function spindleOn(l: Lines, rpm: number): void {
  const { machine } = l;
  const { start = "program", spinUpS, handS = HAND_S } = machine.spindle;
  l.text.push(`S${speedWord(rpm, machine)} M3`);
  const waits = start === "hand-in-dwell" ? handS + spinUpS : spinUpS;
  if (start !== "program") {
    const turns = Math.round(rpm);
    const then = start === "hand-at-stop" ? ", then go on" : ` within ${handS} s`;
    l.text.push(...comment(`${BY_HAND}: start it now at ${turns} rpm${then}`, machine));
  }
  if (start === "hand-at-stop") l.text.push("M0");
  l.text.push(dwell(waits, machine));
}

/** Before the end, where nobody but a hand can stop it. */
export function spindleOffWords(l: Lines): void {
  const { start = "program" } = l.machine.spindle;
  if (start === "program") return;
  l.text.push(...comment(`${BY_HAND}: stop it now`, l.machine));
}

/** S for a speed: whole, and never more than the fastest. */
export function speedWord(rpm: number, { spindle }: Machine): number {
  return Math.min(Math.round(rpm / rpmPerS(spindle)), spindle.sAtMax ?? Number.POSITIVE_INFINITY);
}
