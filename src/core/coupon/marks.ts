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
  const { width, pitch } = size;
  const made: Contour[] = [];
  let y = from.y;
  for (let i = 0; i < Math.floor(number / 5); i++) {
    made.push(stroke({ x: from.x, y }, width, pitch + width));
    y += 2 * pitch;
  }
  for (let i = 0; i < number % 5; i++) {
    made.push({ segments: [circle({ x: from.x, y: y + width / 2 }, width / 2, false)] });
    y += pitch;
  }
  return made;
}

/** Upright, with round ends. */
function stroke({ x, y }: Point, width: number, length: number): Contour {
  return slotHole({ at: { x, y: y + length / 2 }, width, length, angle: Math.PI / 2 });
}
