/**
 * No overcut: how far any stroke reaches into a plate, at any depth.
 *
 * The exact distance of each stroke to each wall that borders solid at its depth, less the cutter's
 * radius. A stroke that runs wholly inside a plate meets no wall: a run of strokes can only get there
 * through a wall or from above, so the first point of every run is looked up in the plates as well.
 *
 * Bound: rounding only (the sweep has no chords). Cost: a few walls a stroke.
 */
import { OVERCUT } from "../../geometry/tolerance.ts";
import type { SheetInput } from "../proof.ts";
import { boxAround, distanceToPoint, xAt, yAt } from "../removal/curve.ts";
import { gapBetween } from "../removal/gap.ts";
import { visit } from "../removal/grid.ts";
import { distinct } from "../removal/level.ts";
import { above, below, type Stroke } from "../removal/stroke.ts";
import { isSolid, type Target, type Wall, wallDistance } from "../target.ts";
import { mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Nothing is cut by a tip this near the top. */
const SKIN = -0.001;
/** How far beyond its reach a stroke still looks for walls, so that the worst value is known when it is fine. */
const MARGIN = 0.02;
/** How far inside a plate a lost cutter is measured. */
const DEEP = 20;

export function checkOvercut(input: SheetInput, target: Target, strokes: readonly Stroke[]): Worst {
  const worst = mostOf("overcut", "mm", OVERCUT);
  const work: Work = { input, target, worst };
  let previous: Stroke | undefined;
  const pieces: Stroke[] = [];
  for (const stroke of strokes) {
    const cut = below(stroke, SKIN);
    if (cut === undefined) {
      previous = undefined;
      continue;
    }
    const fresh = previous === undefined || !follows(previous, cut) || previous.z1 > SKIN;
    for (const piece of byFloors(target, cut)) {
      if (fresh || target.floors.length > 0) standing(work, piece);
      pieces.push(piece);
    }
    previous = stroke;
  }
  // Without recesses a wall is the same at every depth, and of passes on one way the first says all.
  for (const piece of target.floors.length > 0 ? pieces : distinct(pieces)) passing(work, piece);
  return worst;
}

function follows(a: Stroke, b: Stroke): boolean {
  return a.curve.x1 === b.curve.x0 && a.curve.y1 === b.curve.y0 && a.program === b.program;
}

/** A stroke cut at the floors of recesses: each piece has the same walls all along. */
function byFloors(target: Target, stroke: Stroke): Stroke[] {
  const out: Stroke[] = [];
  let rest: Stroke | undefined = stroke;
  for (const floor of target.floors) {
    if (rest === undefined) break;
    const upper = above(rest, floor);
    if (upper !== undefined) out.push(upper);
    rest = upper === rest ? undefined : below(rest, floor);
  }
  if (rest !== undefined) out.push(rest);
  return out;
}

const depthOf = (s: Stroke): number => (s.z0 + s.z1) / 2;

interface Work {
  readonly input: SheetInput;
  readonly target: Target;
  readonly worst: Worst;
}

function spotOf({ input, target }: Work, s: Stroke, x: number, y: number): Spot {
  return {
    at: [x, y],
    sheet: target.sheet.name,
    program: { file: input.programs[s.program]?.file ?? "", line: s.line },
  };
}

function standing(work: Work, s: Stroke): void {
  const { x0, y0 } = s.curve;
  const z = depthOf(s);
  for (const part of work.target.parts) {
    if (!isSolid(part, x0, y0, z)) continue;
    const depth = wallDistance(work.target, x0, y0, z, DEEP) + s.radius;
    offer(work.worst, depth, () => ({ ...spotOf(work, s, x0, y0), plate: part.plate.plate }));
  }
}

function passing(work: Work, s: Stroke): void {
  const { target, worst } = work;
  const z = depthOf(s);
  visit(target.grid, boxAround(s.curve, s.radius + MARGIN), (i) => {
    const wall = target.walls[i] as Wall;
    if (z < wall.low || z >= wall.high) return;
    if (worst.spot !== undefined && clearlyApart(s, wall, worst.value)) return;
    const gap = gapBetween(s.curve, wall.curve);
    const bite = s.radius - gap.distance;
    if (bite <= worst.value && worst.spot !== undefined) return;
    const depth = gap.distance > 0 ? bite : s.radius + inside(target, s, z);
    offer(worst, depth, () => ({
      ...spotOf(work, s, gap.bx, gap.by),
      plate: wall.ring.plate.plate,
      drawing: wall.origin,
    }));
  });
}

/** No two points of the curves are nearer than their middles less half of both lengths. */
function clearlyApart(s: Stroke, wall: Wall, worst: number): boolean {
  const { curve } = s;
  const toMiddle = distanceToPoint(
    wall.curve,
    (curve.x0 + curve.x1) / 2,
    (curve.y0 + curve.y1) / 2,
  );
  // Half the ways to both ends bound it: |PM| ≤ (|PA| + |PB|) / 2 for the middle M of a chord AB.
  return s.radius - (toMiddle - curve.length / 2) <= worst;
}

/** How far beyond the wall a crossing stroke's centre gets, at its ends and in its middle. */
function inside(target: Target, s: Stroke, z: number): number {
  let most = 0;
  for (const t of [0, 0.5, 1]) {
    const x = xAt(s.curve, t);
    const y = yAt(s.curve, t);
    if (!target.parts.some((part) => isSolid(part, x, y, z))) continue;
    most = Math.max(most, wallDistance(target, x, y, z, DEEP));
  }
  return most;
}
