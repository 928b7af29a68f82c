/** Over the picture: the cutter in true size, and where its block leads. */

import { KIND } from "../../core/jobsheet/motion/encode.ts";
import { scaleOf, type View } from "./painter.ts";
import { arcOf, at, placeAt, type Stage, type Take } from "./stage.ts";

const ACCENT = "#7b1f5c";
/** Around the marks, so that they show on every depth. */
const HALO = "#ffffff";

export interface Moment {
  readonly take: Take;
  readonly step: number;
  readonly share: number;
}

/** Whether the cutter's place is known. */
export function isPlaced({ take: { motion }, step, share }: Moment): boolean {
  return at(motion.unknown, step) === 0 || (share >= 1 && at(motion.unknown, step + 1) === 0);
}

export function drawMarks(
  context: CanvasRenderingContext2D,
  stage: Stage,
  view: View,
  moment: Moment,
): void {
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.clearRect(0, 0, view.width, view.height);
  if (!isPlaced(moment)) return;
  const { take, step, share } = moment;
  const s = scaleOf(view);
  const [zeroX, zeroY] = stage.sheet.zero;
  context.setTransform(s, 0, 0, -s, (zeroX - view.box[0]) * s, (view.box[3] - zeroY) * s);
  const px = view.fine / s;
  context.lineCap = "round";
  if (share < 1) drawWay(context, moment, px);
  const { x, y, z } = placeAt(take.motion, step, share);
  const radius = Math.max(take.program.diameter / 2, 3 * px);
  context.beginPath();
  context.arc(x, y, radius, 0, 2 * Math.PI);
  if (z < stage.sheet.topZ) {
    context.fillStyle = ACCENT;
    context.globalAlpha = 0.6;
    context.fill();
    context.globalAlpha = 1;
  }
  twice(context, px);
  // A cross of hairs, so that a small cutter is found on a large sheet.
  context.beginPath();
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    const inner = radius + 3 * px;
    context.moveTo(x + dx * inner, y + dy * inner);
    context.lineTo(x + dx * (inner + 9 * px), y + dy * (inner + 9 * px));
  }
  twice(context, px);
}

/** What is left of the block: dashed where it is a rapid. */
function drawWay(context: CanvasRenderingContext2D, { take, step, share }: Moment, px: number) {
  const m = take.motion;
  const a = placeAt(m, step, share);
  context.beginPath();
  context.moveTo(a.x, a.y);
  const sweep = at(m.sweep, step);
  if (sweep === 0) context.lineTo(at(m.x1, step), at(m.y1, step));
  else {
    const { radius, from } = arcOf(m, step);
    const start = from + sweep * share;
    context.arc(at(m.cx, step), at(m.cy, step), radius, start, from + sweep, sweep < 0);
  }
  if (at(m.kind, step) === KIND.rapid) context.setLineDash([6 * px, 6 * px]);
  twice(context, px);
  context.setLineDash([]);
}

function twice(context: CanvasRenderingContext2D, px: number): void {
  context.strokeStyle = HALO;
  context.lineWidth = 4.5 * px;
  context.stroke();
  context.strokeStyle = ACCENT;
  context.lineWidth = 2 * px;
  context.stroke();
}
