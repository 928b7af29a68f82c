/**
 * A sheet border or title block around plates: a frame that belongs to the paper, not to a part.
 *
 * A loop is taken for a border where it is an upright rectangle that holds all other loops, one of which holds
 * loops itself (a plate with its holes), and either has the size of a sheet of paper, or lies on a layer that
 * says so. A frame inside the border that holds all the rest goes with it, as does what it shuts in beside the
 * plates without a hole of its own, if the border's layer says that too. Anything weaker is only told.
 * Paper sizes: ISO 216:2007 A0–A5; ANSI/ASME Y14.1 A–E in inches; at any scale of the usual drawing scales.
 */
import { bounds } from "../../geometry/contour.ts";
import type { Box } from "../../geometry/shape.ts";
import type { Loop } from "../drawing.ts";

export interface Border {
  /** Indices of loops that are paper. */
  readonly loops: readonly number[];
  readonly sure: boolean;
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

const SAYS_BORDER = /border|frame|title|sheet|rahmen|schriftfeld|cadre|cartouche|format|page/i;

/** `textCount`: how many texts the drawing has; a bare rectangle with holes and no text is a plate. */
export function borderOf(loops: readonly Loop[], textCount: number): Border | undefined {
  const boxes = loops.map((l) => bounds(l.contour));
  const outer = largest(boxes);
  if (outer < 0 || loops.length < 3) return undefined;
  const frame = boxes[outer] as Box;
  if (!uprightRectangle(loops[outer] as Loop)) return undefined;
  const others = loops.map((_, i) => i).filter((i) => i !== outer);
  if (!others.every((i) => strictlyIn(boxes[i] as Box, frame))) return undefined;
  const second = innerFrame(loops, boxes, others);
  const frames = second === undefined ? [outer] : [outer, second];
  const rest = others.filter((i) => i !== second);
  if (!rest.some((i) => rest.some((k) => k !== i && strictlyIn(boxes[k] as Box, boxes[i] as Box))))
    return undefined;
  const named = SAYS_BORDER.test((loops[outer] as Loop).layer);
  const paper = isPaper(frame) || (second !== undefined && isPaper(boxes[second] as Box));
  const sure = named || (paper && textCount > 0) || (paper && second !== undefined);
  const onLayer = named
    ? rest.filter((i) => (loops[i] as Loop).layer === (loops[outer] as Loop).layer)
    : [];
  return sure || paper || textCount > 0
    ? { loops: [...frames, ...onLayer], sure, box: frame }
    : undefined;
}

function largest(boxes: readonly Box[]): number {
  let best = -1;
  let most = 0;
  boxes.forEach((b, i) => {
    const area = (b.max.x - b.min.x) * (b.max.y - b.min.y);
    if (area > most) [most, best] = [area, i];
  });
  return best;
}

function uprightRectangle(loop: Loop): boolean {
  const s = loop.contour.segments;
  return (
    s.length === 4 &&
    s.every(
      (x) =>
        x.kind === "line" &&
        (Math.abs(x.from.x - x.to.x) < 1e-3 || Math.abs(x.from.y - x.to.y) < 1e-3),
    )
  );
}

function strictlyIn(a: Box, b: Box): boolean {
  return a.min.x > b.min.x && a.min.y > b.min.y && a.max.x < b.max.x && a.max.y < b.max.y;
}

/** A second rectangle within the first that again holds all the rest, a margin inside. */
function innerFrame(
  loops: readonly Loop[],
  boxes: readonly Box[],
  others: readonly number[],
): number | undefined {
  return others.find(
    (i) =>
      uprightRectangle(loops[i] as Loop) &&
      others.length > 2 &&
      others.every((k) => k === i || strictlyIn(boxes[k] as Box, boxes[i] as Box)),
  );
}

function isPaper(b: Box): boolean {
  const w = b.max.x - b.min.x;
  const h = b.max.y - b.min.y;
  const [short, long] = w < h ? [w, h] : [h, w];
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
