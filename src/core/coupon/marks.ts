/** Numbers as shallow marks: a dot is one, a stroke is five. Each is a recess that any cutter of the job can clear. */
import { slotHole } from "../airframe/shape/build.ts";
import { circle } from "../geometry/segment.ts";
import type { Contour, Point } from "../geometry/shape.ts";

export interface MarkSize {
  /** Width of a mark: a little wider than the cutter. */
  readonly width: number;
  /** From one mark's middle to the next. */
  readonly pitch: number;
}

/** The cutter clears a mark this much wider than itself, mm. */
const WIDER = 0.3;
/** Between two marks, mm. */
const BETWEEN = 1.2;

export function markSize(cutter: number): MarkSize {
  return { width: cutter + WIDER, pitch: cutter + WIDER + BETWEEN };
}

/** How far a number's marks reach, from end to end. */
export function reachOf(number: number, { width, pitch }: MarkSize): number {
  const dots = number % 5;
  const strokes = Math.floor(number / 5);
  return strokes * 2 * pitch + dots * pitch - (pitch - width);
}

/** Upwards from a point, the strokes first. */
export function marks(number: number, from: Point, size: MarkSize): Contour[] {
  return marksAlong("y", number, from, size);
}

/** From a point to the right or upwards, the strokes first. */
export function marksAlong(
  axis: "x" | "y",
  number: number,
  from: Point,
  { width, pitch }: MarkSize,
): Contour[] {
  const on = (by: number): Point =>
    axis === "x" ? { x: from.x + by, y: from.y } : { x: from.x, y: from.y + by };
  const strokes = Math.floor(number / 5);
  const long = pitch + width;
  const angle = axis === "x" ? 0 : Math.PI / 2;
  return [
    ...Array.from({ length: strokes }, (_, i) =>
      slotHole({ at: on(2 * pitch * i + long / 2), width, length: long, angle }),
    ),
    ...Array.from({ length: number % 5 }, (_, i): Contour => {
      const at = on(2 * pitch * strokes + pitch * i + width / 2);
      return { segments: [circle(at, width / 2, false)] };
    }),
  ];
}

/** As a form tells what to look for: "2 dots", "a stroke and a dot". */
export function markWords(number: number): string {
  const count = (n: number, what: string): string => (n === 1 ? `a ${what}` : `${n} ${what}s`);
  const parts = [
    [Math.floor(number / 5), "stroke"],
    [number % 5, "dot"],
  ] as const;
  return parts.flatMap(([n, what]) => (n === 0 ? [] : [count(n, what)])).join(" and ");
}
