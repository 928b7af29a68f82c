/**
 * The checks that need the stock as it is at each moment: rapids through material, entries, depth of
 * cut, chip load.
 *
 * Chip load is judged where material is met, in mm per revolution at the cutter's edge. On an arc of
 * radius r an edge point at distance ρ from the arc's centre goes ρ/r as fast along the work as the
 * centre does: feed × (r + R)/r at the wall of a bore, feed × (r − R)/r at that of a boss (centre feed in
 * a bore: vf (Dm − Dc)/Dm, Sandvik Coromant threading catalogue p. 117; Yamawa 2022–23 p. 1228). Which ρ
 * it is, the stock says and not the drawing: the rim along which a narrow band is really taken away, the
 * centre where the cut is wide, and in between in proportion (engage.ts). So a finishing pass counts the
 * wall that still has stock, and not the other wall of the kerf, which roughing has cut. Too much is
 * judged there; too little is judged on the outer side, since the inner edge of a tight turn stands
 * still by its nature.
 */
import { degrees, power } from "../../geometry/trig.ts";
import type { SheetInput, TargetCutter } from "../proof.ts";
import {
  type Field,
  type Met,
  meets,
  mill,
  newField,
  newMet,
  release,
  TOUCH,
} from "../removal/field.ts";
import { below, lowest, type Stroke } from "../removal/stroke.ts";
import { type Bounds, type Cuttings, type Edge, engage, newRun, steps } from "./engage.ts";
import { isWorse, leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Heights are rounded to the machine's decimals; a ramp's least piece is a chord of a circle of 0.1 mm, kept to 0.002 mm; mm. */
const LEAST_PIECE = 0.04;
/** Room for rounded feeds (whole mm/min) and speeds, as a share. */
const CHIP_ROOM = 0.02;

export interface CuttingChecks {
  readonly rapid: Worst;
  readonly entry: Worst;
  readonly depth: Worst;
  readonly chipMost: Worst;
  readonly chipLeast: Worst;
}

interface Work {
  readonly input: SheetInput;
  readonly field: Field;
  readonly checks: CuttingChecks;
  readonly met: Met;
  /** One for each program, since each has its cutter. */
  readonly bounds: readonly Bounds[];
}

export function checkCutting(
  input: SheetInput,
  strokes: readonly Stroke[],
  box: readonly [number, number, number, number],
): CuttingChecks {
  const { limits, machine } = input;
  const angleRoom = power(10, -machine.decimals) / LEAST_PIECE;
  const checks: CuttingChecks = {
    rapid: mostOf("rapid-in-stock", "mm", TOUCH),
    entry: mostOf("entry-angle", "deg", degrees(limits.rampAngle + angleRoom)),
    depth: mostOf("depth-of-cut", "mm", limits.passDepth + TOUCH),
    chipMost: mostOf("chip-too-thick", "mm/rev", 0),
    chipLeast: leastOf("chip-too-thin", "mm/rev", 0),
  };
  for (const w of [checks.rapid, checks.entry, checks.depth]) offer(w, 0, () => ({}));
  const finest = strokes.reduce((least, s) => Math.min(least, 2 * s.radius), 2);
  const field = newField(box, finest);
  const run = newRun();
  const bounds = input.programs.map(({ cutter }): Bounds => {
    const light = Math.max(limits.finishStock * 1.5, 0.1 * cutter.effectiveDiameter) + field.pitch;
    return { rampAngle: limits.rampAngle, light, deepest: checks.depth.limit, run };
  });
  const work: Work = { input, field, checks, met: newMet(), bounds };
  const cuttings: Cuttings = new Map();
  for (const stroke of strokes) {
    const inside = below(stroke, -1e-4);
    const pieces = inside === undefined ? [] : steps(inside, cuttings);
    for (let i = 0; i < pieces.length; i++) judge(work, pieces[i] as Stroke);
    if (inside === undefined || stroke.rapid) run.excess = 0;
  }
  release(field);
  return checks;
}

function spotOf(work: Work, s: Stroke): Spot {
  const { met, input } = work;
  return {
    at: [met.x, met.y],
    sheet: input.sheet.name,
    program: { file: input.programs[s.program]?.file ?? "", line: s.line },
  };
}

function judge(work: Work, s: Stroke): void {
  if (s.rapid) judgeRapid(work, s);
  else judgeFeed(work, s);
}

function judgeRapid(work: Work, s: Stroke): void {
  const { met, field, checks } = work;
  // Straight up, the cutter leaves by the hole that it stands in.
  const rises = s.curve.length === 0 && s.z1 >= s.z0;
  const hits = !rises && meets(field, s, TOUCH);
  mill(field, s, Number.POSITIVE_INFINITY, met);
  if (!hits) return;
  if (met.points === 0) {
    met.x = s.curve.x1;
    met.y = s.curve.y1;
  }
  offer(checks.rapid, -lowest(s), () => spotOf(work, s));
}

function judgeFeed(work: Work, s: Stroke): void {
  const { checks, met, field } = work;
  const cutter = work.input.programs[s.program]?.cutter as TargetCutter;
  const found = engage(field, s, work.bounds[s.program] as Bounds, met);
  if (!found.cuts) return;
  if (!s.drill) {
    offerFor(work, checks.depth, found.depth, s);
    offerFor(work, checks.entry, degrees(found.entry), s);
  }
  if (found.edge !== undefined && found.edge.width > TOUCH) judgeChip(work, s, cutter, found.edge);
}

function judgeChip(work: Work, s: Stroke, cutter: TargetCutter, edge: Edge): void {
  if (s.rpm === 0 || s.feed === 0) return;
  const { curve, radius } = s;
  const perRev = s.feed / s.rpm;
  const { least, most, mostAtFullWidth = most } = cutter.feedPerRev;
  const bend = curve.isArc && curve.r > 0 ? curve.r : s.bend;
  const outer = 1 + radius / bend;
  const limit = edge.width > radius ? mostAtFullWidth : most;
  offerFor(work, work.checks.chipMost, perRev * edge.speed, s, limit * (1 + CHIP_ROOM));
  offerFor(work, work.checks.chipLeast, perRev * outer, s, least * (1 - CHIP_ROOM));
}

function offerFor(work: Work, worst: Worst, value: number, s: Stroke, limit = worst.limit): void {
  if (isWorse(worst, value, limit)) offer(worst, value, () => spotOf(work, s), limit);
}
