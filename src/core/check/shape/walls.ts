/**
 * The walls of a plate with the cutter that makes each, and the corners in which that cutter leaves something, worst
 * first. Walls that no cutter makes are left out: other rules stop for them.
 */
import { type Cutter, effectiveDiameter } from "../../cutting/cutter.ts";
import type { Place } from "../../finding/finding.ts";
import { distance } from "../../geometry/segment.ts";
import type { Contour } from "../../geometry/shape.ts";
import type { Feature } from "../../plate/plate.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { fitOf, type Wall, wallOf } from "../../toolpath/choose/fit.ts";
import { type JobView, type PlateView, pointPlace } from "../view.ts";
import { type InsideCorner, insideCorners, leftIn } from "./inside-corners.ts";

export interface LeftCorner extends InsideCorner {
  readonly mm: number;
  readonly mm2: number;
}

export interface CutWall {
  readonly name: string;
  readonly cutter: Cutter;
  readonly diameter: number;
  readonly corners: readonly LeftCorner[];
  /** Whether another plate sits in it. */
  readonly mates: boolean;
  readonly placeAt: (corner: InsideCorner) => Place;
}

interface Known {
  readonly name: string;
  readonly contour: Contour;
  readonly side: Wall["side"];
  readonly feature?: Feature;
}

export function walls(view: JobView, p: PlateView): CutWall[] {
  const known: Known[] = [
    { name: "The outline", contour: p.plate.outer, side: "outside" },
    ...p.plate.features
      .filter((f) => f.kind === "window" || f.kind === "recess")
      .map((f): Known => ({ name: nameOf(f), contour: f.contour, side: "inside", feature: f })),
  ];
  return known.flatMap((wall) => {
    const cutter = cutterOf(view, wall);
    return cutter === undefined ? [] : [cutWall(p, wall, cutter)];
  });
}

/** The largest that makes it whole, else the smallest if that goes round at all: as toolpath chooses. */
function cutterOf(view: JobView, { contour, side }: Known): Cutter | undefined {
  const wall = wallOf(contour, side);
  const fitted = (c: Cutter) => fitOf(wall, effectiveDiameter(c) / 2);
  const whole = [...view.routers].reverse().find((c) => fitted(c).whole);
  if (whole !== undefined) return whole;
  const [smallest] = view.routers;
  if (smallest === undefined) return undefined;
  const { enters, split } = fitted(smallest);
  return enters && !split ? smallest : undefined;
}

function cutWall(p: PlateView, wall: Known, cutter: Cutter): CutWall {
  const diameter = effectiveDiameter(cutter);
  const corners = insideCorners(wall.contour, wall.side, diameter / 2)
    .map((c) => ({ ...c, ...leftIn(c, diameter / 2) }))
    .sort((a, b) => b.mm - a.mm);
  return {
    name: wall.name,
    cutter,
    diameter,
    corners,
    mates: matesAt(p, wall, corners),
    placeAt: (c) => pointPlace(p, c.at, c.origin),
  };
}

/** Within this of a tenon's end a corner of the outline is the tenon's root, mm. */
const ROOT = 0.05;

function matesAt(p: PlateView, wall: Known, corners: readonly InsideCorner[]): boolean {
  if (wall.feature !== undefined) return p.mating?.has(wall.feature.id) === true;
  const edges = p.plate.matingEdges ?? [];
  return corners.some((c) =>
    edges.some((e) => distance(e.from, c.at) <= ROOT || distance(e.to, c.at) <= ROOT),
  );
}
