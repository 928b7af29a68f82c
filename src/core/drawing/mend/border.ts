/**
 * A sheet border or title block around plates: a frame that belongs to the paper, not to a part.
 *
 * A loop is taken for a border where it is a rectangle that holds all other loops, and either lies on a layer
 * that says so, or has the size of a sheet of paper with something else that speaks for paper: text, or a second
 * frame a margin inside. Where what it holds has holes of its own it is sure, for a plate with a hole inside a
 * window is rare; anything weaker is only told. A second frame goes with the border, as do rectangles without a
 * hole that lie along a frame: the title block.
 * Paper sizes: ISO 216:2007 A0–A5; ANSI/ASME Y14.1 A–E in inches. Drawings of plates are full size.
 */
import { contains } from "../../geometry/contour.ts";
import { distance, lengthOf, pointAt } from "../../geometry/segment.ts";
import type { Box, Contour, Line, Point } from "../../geometry/shape.ts";
import type { Loop } from "../drawing.ts";
import { boxAround } from "./double/boxes.ts";
import { overlappingPairs } from "./double/sweep.ts";

export interface Border {
  /** Indices of loops that are paper. */
  readonly loops: readonly number[];
  readonly sure: boolean;
  readonly width: number;
  readonly height: number;
  readonly box: Box;
}

/** Short and long side, mm. */
const PAPER: readonly (readonly [number, number])[] = [
  [148, 210],
  [210, 297],
  [297, 420],
  [420, 594],
  [594, 841],
  [841, 1189],
  [215.9, 279.4],
  [215.9, 355.6],
  [279.4, 431.8],
  [431.8, 558.8],
  [558.8, 863.6],
  [863.6, 1117.6],
];
/** Borders are drawn on the paper's edge or within a margin of up to this, mm (ISO 5457:1999: 20 and 10). */
const MARGIN = 20;
const PAPER_SLACK = 1;
/** Corners of a rectangle are right within this, as sine: 0.1 mm over 100. */
const RIGHT = 1e-3;
/** A title block lies along its frame within this, mm. */
const ALONG = 0.5;

const SAYS_BORDER = /border|frame|title|sheet|rahmen|schriftfeld|cadre|cartouche|format|page/i;

interface Rectangle {
  readonly contour: Contour;
  readonly short: number;
  readonly long: number;
}

/** `textCount`: how many texts the drawing has; a bare rectangle with holes and no text is a plate. */
export function borderOf(loops: readonly Loop[], textCount: number): Border | undefined {
  if (loops.length < 2) return undefined;
  const rectangles = loops.map((l) => rectangleOf(l.contour));
  const outer = largest(rectangles);
  const frame = rectangles[outer];
  const all = loops.map((_, i) => i);
  if (frame === undefined || !holdsAll(frame, loops, without(all, [outer]))) return undefined;
  const filled = filledLoops(loops);
  const second = innerFrame(loops, rectangles, without(all, [outer]), filled);
  const inner = second === undefined ? undefined : rectangles[second];
  const frames = second === undefined ? [outer] : [outer, second];
  const rest = without(all, frames);
  const nested = rest.some((i) => filled[i] === true);
  const named = SAYS_BORDER.test((loops[outer] as Loop).layer);
  const paper = isPaper(frame) || (inner !== undefined && isPaper(inner));
  const speaks = textCount > 0 || second !== undefined;
  if (!named && !(paper && (speaks || nested)) && !(nested && textCount > 0)) return undefined;
  const plain = rest.filter((i) => rectangles[i] !== undefined && filled[i] === false);
  const { min, max } = boxAround(frame.contour);
  const lying = Math.abs(max.x - min.x - frame.long) < Math.abs(max.x - min.x - frame.short);
  return {
    loops: [...frames, ...titleBlock(loops, rectangles, frames, plain)],
    sure: named || (paper && nested && speaks),
    width: lying ? frame.long : frame.short,
    height: lying ? frame.short : frame.long,
    box: { min, max },
  };
}

function without(indices: readonly number[], out: readonly number[]): number[] {
  return indices.filter((i) => !out.includes(i));
}

/** Turned or not; undefined where the contour is no rectangle. */
function rectangleOf(contour: Contour): Rectangle | undefined {
  const s = contour.segments;
  if (s.length !== 4 || !s.every((x) => x.kind === "line")) return undefined;
  const right = s.every((a, i) => sine(a as Line, s[(i + 1) % 4] as Line) > 1 - RIGHT);
  if (!right) return undefined;
  const [a, b] = [lengthOf(s[0] as Line), lengthOf(s[1] as Line)];
  return { contour, short: Math.min(a, b), long: Math.max(a, b) };
}

function sine(a: Line, b: Line): number {
  const cross =
    (a.to.x - a.from.x) * (b.to.y - b.from.y) - (a.to.y - a.from.y) * (b.to.x - b.from.x);
  return Math.abs(cross) / (lengthOf(a) * lengthOf(b));
}

function largest(rectangles: readonly (Rectangle | undefined)[]): number {
  let best = -1;
  let most = 0;
  rectangles.forEach((r, i) => {
    if (r !== undefined && r.short * r.long > most) [most, best] = [r.short * r.long, i];
  });
  return best;
}

function holdsAll(r: Rectangle, loops: readonly Loop[], which: readonly number[]): boolean {
  return which.every((i) => holds(r.contour, (loops[i] as Loop).contour));
}

function holds(outer: Contour, inner: Contour): boolean {
  return inner.segments.every((s) => contains(outer, pointAt(s, 0.5)) || onEdge(outer, s.from));
}

/** A title block's edge may lie on its frame. */
function onEdge(c: Contour, p: Point): boolean {
  return c.segments.some((s) => offLine(s as Line, p) <= ALONG);
}

/** Distance from a line segment. */
function offLine(l: Line, p: Point): number {
  const d = lengthOf(l);
  const t = ((p.x - l.from.x) * (l.to.x - l.from.x) + (p.y - l.from.y) * (l.to.y - l.from.y)) / d;
  const k = Math.min(d, Math.max(0, t)) / d;
  const q = { x: l.from.x + k * (l.to.x - l.from.x), y: l.from.y + k * (l.to.y - l.from.y) };
  return distance(p, q);
}

/** The largest rectangle within the first that again holds all the rest, plates with holes among it. */
function innerFrame(
  loops: readonly Loop[],
  rectangles: readonly (Rectangle | undefined)[],
  others: readonly number[],
  filled: readonly boolean[],
): number | undefined {
  const inside = others.map((i) => rectangles[i]);
  const second = others[largest(inside)];
  const r = second === undefined ? undefined : rectangles[second];
  if (second === undefined || r === undefined) return undefined;
  const rest = without(others, [second]);
  return rest.some((i) => filled[i] === true) && holdsAll(r, loops, rest) ? second : undefined;
}

/** Which loops hold another, by their boxes. */
function filledLoops(loops: readonly Loop[]): boolean[] {
  const boxes = loops.map((l) => boxAround(l.contour));
  const filled = loops.map(() => false);
  overlappingPairs(boxes, 0, (i, j) => {
    if (strictlyIn(boxes[i] as Box, boxes[j] as Box)) filled[j] = true;
    if (strictlyIn(boxes[j] as Box, boxes[i] as Box)) filled[i] = true;
  });
  return filled;
}

function strictlyIn(a: Box, b: Box): boolean {
  return a.min.x > b.min.x && a.min.y > b.min.y && a.max.x < b.max.x && a.max.y < b.max.y;
}

/** Rectangles without a hole that share a stretch of an edge with a frame, or with one that does. */
function titleBlock(
  loops: readonly Loop[],
  rectangles: readonly (Rectangle | undefined)[],
  frames: readonly number[],
  plain: readonly number[],
): number[] {
  const paper = [...frames];
  const { layer } = loops[frames[0] as number] as Loop;
  for (let grown = true; grown; ) {
    const next = plain.find(
      (i) =>
        !paper.includes(i) &&
        paper.some((k) => shareEdge((rectangles[k] as Rectangle).contour, loops[i] as Loop)),
    );
    grown = next !== undefined;
    if (next !== undefined) paper.push(next);
  }
  const onLayer = SAYS_BORDER.test(layer)
    ? loops.flatMap((l, i) => (l.layer === layer && !frames.includes(i) ? [i] : []))
    : [];
  return [...new Set([...paper.slice(frames.length), ...onLayer])];
}

function shareEdge(frame: Contour, loop: Loop): boolean {
  return loop.contour.segments.some((s) =>
    frame.segments.some(
      (f) =>
        [0.25, 0.5, 0.75].some((t) => offLine(f as Line, pointAt(s, t)) <= ALONG) &&
        sine(f as Line, s as Line) < RIGHT,
    ),
  );
}

function isPaper({ short, long }: Rectangle): boolean {
  return PAPER.some(([s, l]) => {
    const ds = s - short;
    const dl = l - long;
    const exact = Math.abs(ds) <= PAPER_SLACK && Math.abs(dl) <= PAPER_SLACK;
    // Two margins of 5 to 20 mm off each side.
    const within =
      ds >= 10 - PAPER_SLACK && ds <= 2 * MARGIN && dl >= 10 - PAPER_SLACK && dl <= 2 * MARGIN;
    return exact || within;
  });
}
