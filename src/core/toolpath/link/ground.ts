/**
 * What stands in the way of a low link: keep-outs, the sheet's edge, and pieces that have been cut free.
 *
 * Between two cuts the cutter rises to clearance only where it must. Over sheet that is still whole and clear of
 * clamps, `hop` above its top is enough: the cutter comes down so far at rapid before every cut anyway. A piece
 * that has been cut out, though its tabs hold it, is not passed over so low, nor touched by the cutter's side.
 */
import { COLLET_RADIUS } from "../../cutting/cutter.ts";
import { contains, isConvex, oriented, rectangle } from "../../geometry/contour.ts";
import { line, nearestOn } from "../../geometry/segment.ts";
import type { Contour, Line, Point } from "../../geometry/shape.ts";
import { type Boxed, boxed, curveDistance } from "../../layout/clearance.ts";
import type { KeepOut, Sheet } from "../../layout/layout.ts";
import type { Setup } from "../follow/setup.ts";

/** The cutter's side in its own kerf counts as beside the piece, mm: far above rounding, far below the stock. */
const GRAZE = 0.02;

export interface Ground {
  /** Absent where it bends in nowhere: ways from inside to inside stay inside. */
  readonly edge: Boxed | undefined;
  readonly keepOuts: readonly Kept[];
  /** Contours that have been cut through, in the order in which they were. */
  readonly free: Boxed[];
}

type Kept =
  | { readonly at: Point; readonly radius: number }
  | { readonly box: Contour; readonly walls: Boxed };

export function groundOf({ outline, keepOuts }: Sheet): Ground {
  return {
    edge: isConvex(oriented(outline, true)) ? undefined : boxed(outline),
    keepOuts: keepOuts.map(keptOf),
    free: [],
  };
}

function keptOf(k: KeepOut): Kept {
  if (k.kind === "disc") return { at: k.at, radius: k.diameter / 2 };
  const { min, max } = k.box;
  const box = rectangle(min.x, min.y, max.x, max.y);
  return { box, walls: boxed(box) };
}

export function setFree(ground: Ground, contour: Contour): void {
  ground.free.push(boxed(contour));
}

/** May the cutter go straight from one place to the other at `hop`? */
export function isOpen(ground: Ground, from: Point, to: Point, setup: Setup): boolean {
  if (!isClear(ground, from, to, setup)) return false;
  const way = boxed({ segments: [line(from, to)] });
  const reach = setup.radius - GRAZE;
  return ground.free.every((piece) => curveDistance(way, piece, reach, reach) >= reach);
}

/** The same but for what has been cut free, which changes from cut to cut. */
export function isClear(ground: Ground, from: Point, to: Point, setup: Setup): boolean {
  const { hop, clearance } = setup.options;
  if (hop >= clearance) return false;
  const collet = hop + setup.cutter.overhang < clearance ? COLLET_RADIUS : 0;
  const reach = Math.max(setup.radius, collet) + GRAZE;
  const way = line(from, to);
  if (ground.keepOuts.some((k) => keepDistance(k, way, reach) < reach)) return false;
  const { radius } = setup;
  if (ground.edge === undefined) return true;
  return curveDistance(boxed({ segments: [way] }), ground.edge, radius, radius) >= radius;
}

function keepDistance(k: Kept, way: Line, enough: number): number {
  if ("at" in k) return nearestOn(way, k.at).distance - k.radius;
  if (contains(k.box, way.from)) return 0;
  return curveDistance(boxed({ segments: [way] }), k.walls, enough);
}
