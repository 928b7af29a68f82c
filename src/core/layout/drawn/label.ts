/**
 * A plate's name on its picture: along its longer side, in one line or two, where fewest marks are, be they holding tabs
 * or what is engraved.
 */
import { bounds, contains, joinBoxes } from "../../geometry/contour.ts";
import type { Box, Contour, Point } from "../../geometry/shape.ts";
import { escapeText, num, xy } from "./svg.ts";

export const INK: string = "#1d2b36";

export interface PicturePlate {
  readonly plate: string;
  readonly copy: number;
  /** Copies of it in the job; a plate that is alone needs no number. */
  readonly of: number;
  readonly outer: Contour;
  /** What goes through. */
  readonly inner: readonly Contour[];
  readonly recesses: readonly Contour[];
}

/** Width of a letter, of its height: a mean for the faces that browsers take for `system-ui`. */
const LETTER = 0.56;

interface Label {
  readonly lines: readonly string[];
  /** Height of a letter, mm. */
  readonly size: number;
  /** Along Y, reading upward. */
  readonly upright: boolean;
}

/** What a name should keep off: the tabs' numbers above all, where the cutter goes in if it can. */
export interface Marks {
  readonly tabs: readonly Point[];
  readonly entries: readonly Point[];
}

export function labelPart(p: PicturePlate, marks: Marks, text: number): string {
  const label = labelOf(p, text);
  const at = quietPlace(p, label, marks);
  const { lines, size } = label;
  const turn = label.upright ? ` transform="rotate(-90 ${xy(at)})"` : "";
  const first = 0.35 - (lines.length - 1) * 0.55;
  const spans = lines.map((line, i) => {
    const y = -at.y + size * (first + 1.1 * i);
    return `<tspan x="${num(at.x)}" y="${num(y)}">${escapeText(line)}</tspan>`;
  });
  return (
    `<text text-anchor="middle" font-size="${num(size)}" font-weight="600" fill="${INK}" stroke="#fff" ` +
    `stroke-width="${num(size * 0.22)}" stroke-linejoin="round" paint-order="stroke"${turn}>${spans.join("")}</text>`
  );
}

function labelOf(p: PicturePlate, text: number): Label {
  const { min, max } = bounds(p.outer);
  const upright = max.y - min.y > 2 * (max.x - min.x);
  const room = 0.86 * (upright ? max.y - min.y : max.x - min.x);
  const name = p.of > 1 ? `${p.plate} ${p.copy}` : p.plate;
  const fitting = (chars: number): number => Math.min(text, room / (LETTER * Math.max(1, chars)));
  const halves = splitName(name);
  const one = fitting(name.length);
  const two = fitting(Math.max(...halves.map((half) => half.length)));
  return one < 0.75 * text && two > 1.2 * one
    ? { lines: halves, size: two, upright }
    : { lines: [name], size: one, upright };
}

/** In two near the middle, after a space or hyphen. */
function splitName(name: string): string[] {
  let best: number | undefined;
  for (let i = 1; i < name.length; i++) {
    if (!/[\s-]/.test(name[i - 1] ?? "")) continue;
    if (best === undefined || Math.abs(i - name.length / 2) < Math.abs(best - name.length / 2)) {
      best = i;
    }
  }
  return best === undefined ? [name] : [name.slice(0, best).trim(), name.slice(best)];
}

/** Places to try, as shares of the plate's box from its middle, the nearest first. */
const TRIES: readonly Point[] = tries([0.12, 0.24, 0.34]);
/** Between rows of what is engraved there is little room. */
const FINE_TRIES: readonly Point[] = tries([0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35]);

function tries(off: readonly number[]): readonly Point[] {
  const steps = [0, ...off.flatMap((s) => [s, -s])];
  return steps.flatMap((y) => steps.map((x) => ({ x, y }))).sort((p, q) => away(p) - away(q));
}

function away({ x, y }: Point): number {
  return Math.abs(x) + Math.abs(y);
}

/** Of the middle and a few places round it, the one on the plate whose label hides fewest marks. */
function quietPlace(p: PicturePlate, label: Label, all: Marks): Point {
  const { min, max } = bounds(p.outer);
  // A sheet has hundreds, and its plates have a few each.
  const beside = joinBoxes(labelBox(min, label), labelBox(max, label));
  const tabs = all.tabs.filter((mark) => inBox(mark, beside));
  const entries = all.entries.filter((mark) => inBox(mark, beside));
  let best = { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  let fewest = Number.POSITIVE_INFINITY;
  const engraved = p.recesses.map((r) => bounds(r));
  for (const step of engraved.length === 0 ? TRIES : FINE_TRIES) {
    // A name that leaves its plate is worse than one on a mark; near the middle wins a tie.
    if (away(step) >= fewest) break;
    const at = {
      x: (min.x + max.x) / 2 + step.x * (max.x - min.x),
      y: (min.y + max.y) / 2 + step.y * (max.y - min.y),
    };
    const box = labelBox(at, label);
    const hidden = countIn(tabs, box) + countOver(engraved, box);
    const hiding = 8 * hidden + 2 * countIn(entries, box) + away(step);
    if (hiding >= fewest) continue;
    const cost = hiding + 3 * cornersOutside(p.outer, box);
    if (cost >= fewest) continue;
    fewest = cost;
    best = at;
  }
  return best;
}

function labelBox(at: Point, { lines, size, upright }: Label): Box {
  const along = (LETTER * size * Math.max(...lines.map((line) => line.length))) / 2;
  const across = size * (0.5 + 0.55 * (lines.length - 1));
  const [w, h] = upright ? [across, along] : [along, across];
  return { min: { x: at.x - w, y: at.y - h }, max: { x: at.x + w, y: at.y + h } };
}

function cornersOutside(outer: Contour, { min, max }: Box): number {
  let outside = 0;
  for (const x of [min.x, max.x]) {
    for (const y of [min.y, max.y]) if (!contains(outer, { x, y })) outside++;
  }
  return outside;
}

function countIn(marks: readonly Point[], box: Box): number {
  let n = 0;
  for (const m of marks) if (inBox(m, box)) n++;
  return n;
}

function countOver(boxes: readonly Box[], box: Box): number {
  let n = 0;
  for (const b of boxes) if (overlap(b, box)) n++;
  return n;
}

/** Letters of some faces are wider than reckoned. */
const BLEED = 1;

function overlap(a: Box, b: Box): boolean {
  return (
    a.min.x < b.max.x + BLEED &&
    b.min.x < a.max.x + BLEED &&
    a.min.y < b.max.y + BLEED &&
    b.min.y < a.max.y + BLEED
  );
}

/** Marks are discs: they are hidden before their middle is. */
function inBox(p: Point, { min, max }: Box): boolean {
  const margin = 2.5;
  return (
    p.x > min.x - margin && p.x < max.x + margin && p.y > min.y - margin && p.y < max.y + margin
  );
}
