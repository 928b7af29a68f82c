/**
 * What is gone from the sheet at any moment, as a picture from above.
 *
 * Going forward paints only what is new: a cut is a stroke as wide as the cutter in the colour of its depth, laid on with `darken`,
 * which keeps the deeper of two cuts. Going back takes the last copy of the canvas before that moment and
 * paints on from there; copies are kept at even distances, and one just before where it last went back to, so that
 * going back block by block stays quick. A deadline ends each call: the rest is painted at the next.
 */

import { KIND } from "../../core/jobsheet/motion/encode.ts";
import type { BoxJson } from "../../core/jobsheet/motion/player-data.ts";
import { colourOf, LEVELS } from "./depth-scale.ts";
import { arcOf, at, placeAt, type Stage, type Take } from "./stage.ts";

/** What of the sheet is seen, and on how many pixels. */
export interface View {
  readonly box: BoxJson;
  readonly width: number;
  readonly height: number;
  /** Of them, as many to a pixel of the page: lines are as wide on every screen. */
  readonly fine: number;
}

interface Copy {
  readonly step: number;
  readonly canvas: HTMLCanvasElement;
}

export interface Painter {
  readonly stage: Stage;
  readonly view: View;
  readonly canvas: HTMLCanvasElement;
  readonly context: CanvasRenderingContext2D;
  readonly copies: Copy[];
  /** Steps between copies. */
  readonly apart: number;
  near: Copy | undefined;
  /** Painted up to this moment. */
  done: number;
}

const GROUND = "#ffffff";
const SHEET = "#f0ece0";
const PLATE = "#eef5f9";
const INK = "#1d2b36";
const KEEP_OUT = "#9a4a00";

/** All copies together, in bytes and in number. */
const COPY_BYTES = 64e6;
const MOST_COPIES = 12;
/** How far before a moment gone back to the near copy is. */
const NEAR = 200;
/** Pieces that are stroked as one path; longer paths cost more than they save. */
const TOGETHER = 96;

export function newPainter(stage: Stage, view: View, canvas: HTMLCanvasElement): Painter {
  canvas.width = view.width;
  canvas.height = view.height;
  const context = canvas.getContext("2d", { alpha: false });
  if (context === null) throw new Error("this browser draws no pictures");
  const steps = stage.takes.reduce((sum, take) => sum + take.motion.count, 0);
  const bytes = 4 * view.width * view.height;
  const copies = Math.max(1, Math.min(MOST_COPIES, Math.floor(COPY_BYTES / bytes)));
  const apart = Math.max(NEAR, Math.ceil(steps / copies));
  const painter: Painter = {
    stage,
    view,
    canvas,
    context,
    copies: [],
    apart,
    near: undefined,
    done: 0,
  };
  paintSheet(painter);
  keepCopy(painter);
  return painter;
}

/** Pixels per mm. */
export function scaleOf({ box, width }: View): number {
  return width / (box[2] - box[0]);
}

function paintSheet({ context, stage: { sheet }, view }: Painter): void {
  const s = scaleOf(view);
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.fillStyle = GROUND;
  context.fillRect(0, 0, view.width, view.height);
  context.setTransform(s, 0, 0, s, -view.box[0] * s, view.box[3] * s);
  const px = view.fine / s;
  context.lineWidth = Math.max(0.3, px);
  shape(context, sheet.outline, SHEET, INK);
  for (const plate of sheet.plates) shape(context, plate.path, PLATE, INK);
  shape(context, sheet.keepOuts, "#fff", KEEP_OUT);
  hatch(context, sheet.keepOuts, sheet.box);
  zeroMark(context, sheet.zero[0], -sheet.zero[1], 7 * px);
}

function shape(context: CanvasRenderingContext2D, d: string, fill: string, ink: string): void {
  const path = new Path2D(d);
  context.fillStyle = fill;
  context.strokeStyle = ink;
  context.fill(path, "evenodd");
  context.stroke(path);
}

function hatch(context: CanvasRenderingContext2D, d: string, box: BoxJson): void {
  context.save();
  context.clip(new Path2D(d));
  context.beginPath();
  const height = box[3] - box[1];
  for (let x = box[0] - height; x < box[2]; x += 2.4) {
    context.moveTo(x, -box[1]);
    context.lineTo(x + height, -box[3]);
  }
  context.stroke();
  context.restore();
}

/** As the layout's pictures mark it: a disc in quarters. */
function zeroMark(context: CanvasRenderingContext2D, x: number, y: number, r: number): void {
  context.strokeStyle = INK;
  for (const [fill, from] of [
    ["#fff", 0],
    [INK, 0],
    [INK, Math.PI],
  ] as const) {
    context.fillStyle = fill;
    context.beginPath();
    context.moveTo(x, y);
    context.arc(x, y, r, from, from + (fill === INK ? Math.PI / 2 : 2 * Math.PI));
    context.fill();
  }
  context.beginPath();
  context.arc(x, y, r, 0, 2 * Math.PI);
  context.stroke();
}

/** Paints on, or back and on, until `moment` or the deadline; true when it is there. */
export function paintTo(painter: Painter, moment: number, deadline: number): boolean {
  if (moment < painter.done) goBack(painter, moment);
  const { context } = painter;
  context.globalCompositeOperation = "darken";
  context.lineCap = context.lineJoin = "round";
  const brush = newBrush(painter);
  let count = 0;
  while (painter.done < moment) {
    const step = Math.floor(painter.done);
    const until = Math.min(moment, step + 1);
    paintPart(brush, step, painter.done - step, until - step);
    painter.done = until;
    if (until % painter.apart === 0 && painter.copies.length * painter.apart <= until) {
      flush(brush);
      keepCopy(painter);
    }
    if (++count % 64 === 0 && performance.now() > deadline) break;
  }
  flush(brush);
  context.globalCompositeOperation = "source-over";
  return painter.done >= moment;
}

function keepCopy(painter: Painter): void {
  painter.copies.push(copied(painter));
}

function copied({ canvas, done }: Painter): Copy {
  const copy = document.createElement("canvas");
  copy.width = canvas.width;
  copy.height = canvas.height;
  copy.getContext("2d", { alpha: false })?.drawImage(canvas, 0, 0);
  return { step: done, canvas: copy };
}

function goBack(painter: Painter, moment: number): void {
  const { context, copies, near } = painter;
  const fits = [...copies, ...(near === undefined ? [] : [near])].filter((c) => c.step <= moment);
  const best = fits.reduce((a, b) => (b.step > a.step ? b : a));
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.drawImage(best.canvas, 0, 0);
  painter.done = best.step;
  const ahead = Math.floor(moment) - NEAR;
  if (ahead <= best.step) return;
  paintTo(painter, ahead, Number.POSITIVE_INFINITY);
  painter.near = copied(painter);
}

interface Brush {
  readonly painter: Painter;
  take: Take | undefined;
  level: number;
  pieces: number;
  /** Where the path ends, so that what goes on from there need not begin anew. */
  x: number;
  y: number;
}

function newBrush(painter: Painter): Brush {
  return { painter, take: undefined, level: 0, pieces: 0, x: Number.NaN, y: Number.NaN };
}

function flush(brush: Brush): void {
  if (brush.pieces > 0) brush.painter.context.stroke();
  brush.pieces = 0;
  brush.x = Number.NaN;
}

function useTake(brush: Brush, step: number): Take | undefined {
  const { take, painter } = brush;
  if (take !== undefined && step >= take.first && step < take.first + take.motion.count)
    return take;
  flush(brush);
  const { context, stage, view } = painter;
  const next = stage.takes.find((t) => step < t.first + t.motion.count);
  if (next === undefined) return undefined;
  const s = scaleOf(view);
  const [zeroX, zeroY] = stage.sheet.zero;
  context.setTransform(s, 0, 0, -s, (zeroX - view.box[0]) * s, (view.box[3] - zeroY) * s);
  context.lineWidth = Math.max(next.program.diameter, 1 / s);
  brush.take = next;
  return next;
}

function paintPart(brush: Brush, step: number, from: number, to: number): void {
  const take = useTake(brush, step);
  if (take === undefined) return;
  const { motion } = take;
  const i = step - take.first;
  const kind = at(motion.kind, i);
  if (kind !== KIND.rapid && kind !== KIND.feed) return;
  if (at(motion.unknown, i) === 1) return;
  const { topZ, depth } = brush.painter.stage.sheet;
  const down = (z: number): number => ((topZ - z) / depth) * LEVELS;
  const z = (share: number): number =>
    at(motion.z0, i) + (at(motion.z1, i) - at(motion.z0, i)) * share;
  const [a, b] = [down(z(from)), down(z(to))];
  if (a <= 0 && b <= 0) return;
  const parts = Math.max(1, Math.min(LEVELS, Math.ceil(Math.abs(b - a))));
  for (let k = 0; k < parts; k++) {
    const level = a + ((b - a) * (k + 0.5)) / parts;
    if (level <= 0) continue;
    const step = (to - from) / parts;
    useLevel(brush, Math.ceil(level));
    addPiece(brush, i, from + k * step, from + (k + 1) * step);
  }
}

function useLevel(brush: Brush, level: number): void {
  const { context } = brush.painter;
  if (brush.pieces > 0 && brush.pieces < TOGETHER && brush.level === level) return;
  flush(brush);
  brush.level = level;
  context.strokeStyle = colourOf(level);
  context.beginPath();
}

/** More than this at once and rounding may take a whole turn for none. */
const MOST_TURN = 3;

function addPiece(brush: Brush, i: number, from: number, to: number): void {
  const { take, painter } = brush;
  if (take === undefined) return;
  const { motion } = take;
  const { context } = painter;
  const a = placeAt(motion, i, from);
  const b = placeAt(motion, i, to);
  if (brush.x !== a.x || brush.y !== a.y) context.moveTo(a.x, a.y);
  const sweep = at(motion.sweep, i) * (to - from);
  if (sweep === 0) {
    // A plunge is a dot, and a path without length is none.
    const dot = a.x === b.x && a.y === b.y ? 1e-3 : 0;
    context.lineTo(b.x + dot, b.y);
  } else {
    const arc = arcOf(motion, i);
    const start = arc.from + at(motion.sweep, i) * from;
    const turns = Math.ceil(Math.abs(sweep) / MOST_TURN);
    for (let k = 0; k < turns; k++) {
      const [s, e] = [start + (sweep * k) / turns, start + (sweep * (k + 1)) / turns];
      context.arc(at(motion.cx, i), at(motion.cy, i), arc.radius, s, e, sweep < 0);
    }
  }
  brush.x = b.x;
  brush.y = b.y;
  brush.pieces++;
}
