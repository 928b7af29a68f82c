/**
 * Necks: where an outline comes so near to itself, across its own material, that the plate would break there.
 *
 * A plate shrunk by half a width falls into pieces exactly where it has a neck narrower than that width;
 * ends that merely vanish (tips, tenons) are no necks. The width of the narrowest is found by bisection.
 */
import { bounds, signedArea } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { closestOf, middle } from "./gaps.ts";

export interface Neck {
  readonly width: number;
  readonly at: Point;
}

/** Found to this, mm. */
const CLOSE = 0.01;
/** Pieces smaller than this are crumbs of a rough outline and no part of the plate, mm². */
const PIECE = 4;

/** The narrowest neck of less than `limit`; undefined where there is none. */
export function narrowestNeck(outer: Contour, limit: number): Neck | undefined {
  if (pieces(outer, limit / 2).length < 2) return undefined;
  let whole = 0;
  let parted = limit;
  while (parted - whole > CLOSE) {
    const width = (whole + parted) / 2;
    if (pieces(outer, width / 2).length > 1) parted = width;
    else whole = width;
  }
  const rings = [...pieces(outer, parted / 2)].sort((a, b) => bounds(a).min.x - bounds(b).min.x);
  const [first, ...others] = rings as [Contour, ...Contour[]];
  const between = closestOf(
    first.segments,
    others.flatMap((r) => r.segments),
    Number.POSITIVE_INFINITY,
  );
  const at = between === undefined ? (first.segments[0]?.from ?? { x: 0, y: 0 }) : middle(between);
  return { width: (whole + parted) / 2, at };
}

function pieces(outer: Contour, by: number): Contour[] {
  return offsetRings([outer], -by).filter((r) => signedArea(r) > PIECE);
}
