/**
 * The contour of a slot for a tenon: a rectangle in which the tenon has its clearance, and what is cut beyond its corners
 * so that the tenon's square edges seat.
 *
 * Where the slot is narrow for its cutter the relief of both corners of an end would run together: the end is then
 * made round, half the slot's width beyond the tenon, which is also kindest to the laminate (Inglis: the blunter the
 * notch, the less stress).
 */
import { placeContour, reversedContour } from "../../geometry/contour.ts";
import { arc, line } from "../../geometry/segment.ts";
import type { Contour, Line, Origin, Point, Segment } from "../../geometry/shape.ts";
import type { Relief, ReliefWay } from "../mate.ts";
import { type CornerRelief, relieve } from "./relief.ts";

export interface SlotWanted {
  readonly at: Point;
  readonly angle: number;
  readonly width: number;
  /** Between the end walls. */
  readonly length: number;
  readonly origin: Origin | undefined;
}

export interface SlotMade {
  /** Clockwise. */
  readonly contour: Contour;
  readonly relief: Relief | undefined;
}

/** `radius` of the relief; `none` leaves the corners sharp. */
export function slotContour(wanted: SlotWanted, way: ReliefWay | "none", radius: number): SlotMade {
  const { width, length, at, angle, origin } = wanted;
  const place = (segments: readonly Segment[]): Contour => {
    const placed = placeContour({ segments }, { ...at, angle, flipped: false });
    return reversedContour({ segments: placed.segments.map((s) => ({ ...s, origin })) });
  };
  const walls = rectangle(length, width);
  if (way === "none") return { contour: place(walls), relief: undefined };
  const cut = way === "round-ends" ? undefined : relieved(walls, way, radius);
  if (cut !== undefined) return { contour: place(cut.segments), relief: cut.relief };
  const relief: Relief = { way: "round-ends", radius: width / 2, bite: width / 2, corners: 4 };
  return { contour: place(roundEnds(length, width)), relief };
}

/** Counter-clockwise about the origin, from the lower wall. */
function rectangle(length: number, width: number): Line[] {
  const [h, w] = [length / 2, width / 2];
  const corners = [
    { x: -h, y: -w },
    { x: h, y: -w },
    { x: h, y: w },
    { x: -h, y: w },
  ];
  return corners.map((p, i) => line(p, corners[(i + 1) % 4] as Point));
}

function roundEnds(length: number, width: number): Segment[] {
  const [lower, , upper] = rectangle(length, width) as [Line, Line, Line, Line];
  const h = length / 2;
  return [
    lower,
    arc(lower.to, upper.from, { x: h, y: 0 }, true),
    upper,
    arc(upper.to, lower.from, { x: -h, y: 0 }, true),
  ];
}

/** Undefined where two reliefs would run into each other. */
function relieved(
  walls: readonly Line[],
  way: "along-wall" | "bisector",
  radius: number,
): { segments: Segment[]; relief: Relief } | undefined {
  const corners = walls.map((wall, i) => {
    const next = walls[(i + 1) % 4] as Line;
    // Even walls are the long ones: the relief goes along them and bites into the ends.
    const own: CornerRelief =
      way === "bisector" ? "bisector" : i % 2 === 0 ? "along-first" : "along-second";
    return relieve(wall, next, own, radius);
  });
  const segments: Segment[] = [];
  for (const [i, wall] of walls.entries()) {
    const [before, after] = [corners[(i + 3) % 4], corners[i]];
    if (before === undefined || after === undefined) return undefined;
    const [from, to] = [before.secondBegins, after.firstEnds];
    const forward =
      (to.x - from.x) * (wall.to.x - wall.from.x) + (to.y - from.y) * (wall.to.y - wall.from.y);
    if (forward <= 0) return undefined;
    segments.push(line(from, to), after.bow);
  }
  const bite = corners[0]?.bite ?? 0;
  return { segments, relief: { way, radius, bite, corners: 4 } };
}
