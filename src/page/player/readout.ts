/** What the machine does at a moment, in figures and in the program's own text. */

import { EVENTS, KIND } from "../../core/jobsheet/motion/encode.ts";
import { isPlaced, type Moment } from "./marks.ts";
import { element, type FigureName, type Parts } from "./parts.ts";
import { at, lengthOf, placeAt, type Stage, secondsAt, startOf } from "./stage.ts";

/** Lines of the program shown before and after the block's own. */
const AROUND = 2;

export function clockText(seconds: number): string {
  const tenths = Math.floor(seconds * 10 + 1e-6);
  const minutes = Math.floor(tenths / 600);
  const rest = String(tenths % 600).padStart(3, "0");
  return `${minutes}:${rest.slice(0, 2)}.${rest.slice(2)}`;
}

/** For ears: `12 min 3 s, line 88`. */
export function spoken({ take: { motion }, step, share }: Moment): string {
  const seconds = Math.floor(secondsAt(motion, step, share));
  return `${Math.floor(seconds / 60)} min ${seconds % 60} s, line ${at(motion.line, step)}`;
}

export function showFigures(parts: Parts, stage: Stage, moment: Moment): void {
  const { take, step, share } = moment;
  const { motion } = take;
  const place = placeAt(motion, step, share);
  const placed = isPlaced(moment);
  const total = at(motion.end, motion.count - 1);
  const rpm = at(motion.rpm, step);
  const texts: Record<FigureName, string> = {
    Clock: `${clockText(secondsAt(motion, step, share))} of ${clockText(total)}`,
    Z: `${place.z.toFixed(3)} (${depthText(stage, place.z)})`,
    X: placed ? place.x.toFixed(3) : "not known yet",
    Y: placed ? place.y.toFixed(3) : "not known yet",
    Feed: feedText(moment),
    "Moves at": speedText(moment),
    Spindle: rpm > 0 ? `${rpm} rpm` : "stands still",
    Cutter: `${take.program.cutter}, cuts ${trimmed(take.program.diameter)} mm`,
  };
  for (const name of Object.keys(texts) as FigureName[]) put(parts.figures[name], texts[name]);
}

export function depthText({ sheet }: Stage, z: number): string {
  const below = sheet.topZ - z;
  if (below <= 0) return `${trimmed(-below)} above the sheet`;
  const through = below - sheet.thickness;
  return through > 1e-6 ? `${trimmed(through)} into the board` : `${trimmed(below)} deep`;
}

function feedText({ take: { motion }, step }: Moment): string {
  const kind = at(motion.kind, step);
  if (kind === KIND.rapid) return "rapid";
  if (kind === KIND.dwell) return "waits";
  if (kind === KIND.event) return (EVENTS[at(motion.event, step)] ?? "").replace("-", " ");
  return `${trimmed(at(motion.feed, step))} mm/min`;
}

/** The mean over the block: with short blocks and corners a machine does not reach its feed. */
function speedText({ take: { motion }, step }: Moment): string {
  const takes = at(motion.end, step) - startOf(motion, step);
  const length = lengthOf(motion, step);
  return takes > 0 && length > 0 ? `${Math.round((60 * length) / takes)} mm/min` : "nothing";
}

function trimmed(value: number): string {
  return String(Number(value.toFixed(3)));
}

/** Rows are made once; what changes is their text. */
export function showLines(parts: Parts, lines: readonly string[], line: number): void {
  const { lines: list } = parts;
  while (list.children.length < 2 * AROUND + 1) {
    list.append(element("li", "", element("b", ""), element("code", "")));
  }
  for (let k = 0; k < list.children.length; k++) {
    const row = list.children[k] as HTMLElement;
    const number = line + k - AROUND;
    const text = lines[number - 1];
    put(row.firstElementChild as HTMLElement, text === undefined ? "" : String(number));
    putWords(row.lastElementChild as HTMLElement, text ?? "");
    if (k === AROUND) row.setAttribute("aria-current", "step");
  }
}

/** Breaks between words only: a minus is no hyphen. */
function putWords(where: HTMLElement, text: string): void {
  if (where.textContent === text) return;
  const words = text.match(/\S+\s*|\s+/g) ?? [];
  where.replaceChildren(
    ...words.map((word) => {
      const span = document.createElement("span");
      span.textContent = word;
      return span;
    }),
  );
}

export function put(where: HTMLElement, text: string): void {
  if (where.textContent !== text) where.textContent = text;
}
