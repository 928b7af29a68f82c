/**
 * The checks that need the stock as it is at each moment: rapids through material, entries, depth of
 * cut, chip load.
 *
 * Chip load is judged where material is met, in mm per revolution at the cutter's edge. On an arc the
 * edge runs faster than the centre on the outer side and slower on the inner: in a bore the wall is met
 * at feed × (r + R)/r, round a boss at feed × (r − R)/r, with r the radius of the way (centre feed in a
 * bore: vf (Dm − Dc)/Dm, Sandvik Coromant threading catalogue p. 117; Yamawa 2022–23 p. 1228). Which of
 * them it is, the nearest wall says. Too much is judged there; too little on the outer side, since the
 * inner edge of a tight turn stands still by its nature.
 */
import { degrees } from "../../geometry/trig.ts";
import type { ProofInput, TargetCutter } from "../proof.ts";
import { distanceToPoint, nearestT, xAt, yAt } from "../removal/curve.ts";
import { visit } from "../removal/grid.ts";
import { cut, newStock, type Stock } from "../removal/stock.ts";
import { below, portion, type Stroke } from "../removal/stroke.ts";
import type { Target, Wall } from "../target.ts";
import { type Bounds, engage, faceMeets, type Run, steps, TOUCH } from "./engage.ts";
import { leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Room for rounded coordinates, rad: 0.0001 mm over a ramp of 0.1 mm. */
const ANGLE_ROOM = 0.001;
/** Room for rounded feeds (whole mm/min) and speeds, as a share. */
const CHIP_ROOM = 0.02;
/** A wall this little beyond the cutter's reach is the one being cut, mm, besides the finishing stock. */
const AT_WALL = 0.1;

export interface CuttingChecks {
  readonly rapid: Worst;
  readonly entry: Worst;
  readonly depth: Worst;
  readonly chipMost: Worst;
  readonly chipLeast: Worst;
}

interface Work {
  readonly input: ProofInput;
  readonly target: Target;
  readonly stock: Stock;
  readonly checks: CuttingChecks;
  readonly run: Run;
}

export function checkCutting(
  input: ProofInput,
  target: Target,
  strokes: readonly Stroke[],
  box: readonly [number, number, number, number],
): CuttingChecks {
  const { limits } = input;
  const checks: CuttingChecks = {
    rapid: mostOf("rapid-in-stock", "mm", TOUCH),
    entry: mostOf("entry-angle", "deg", degrees(limits.rampAngle + ANGLE_ROOM)),
    depth: mostOf("depth-of-cut", "mm", limits.passDepth + TOUCH),
    chipMost: mostOf("chip-too-thick", "mm/rev", 0),
    chipLeast: leastOf("chip-too-thin", "mm/rev", 0),
  };
  const work: Work = { input, target, stock: newStock(box), checks, run: { length: -1 } };
  for (const stroke of strokes) {
    const inside = below(stroke, -1e-4);
    if (inside === undefined) continue;
    for (const step of steps(inside)) {
      if (step.rapid) judgeRapid(work, step);
      else judgeFeed(work, step);
      cut(work.stock, step);
    }
  }
  return checks;
}

const spotOf = (work: Work, s: Stroke, x: number, y: number): Spot => ({
  at: [x, y],
  sheet: work.target.sheet.name,
  program: { file: work.input.programs[s.program]?.file ?? "", line: s.line },
});

function judgeRapid(work: Work, s: Stroke): void {
  // Straight up, the cutter leaves by the hole that it stands in.
  if (s.curve.length === 0 && s.z1 >= s.z0) return;
  const n = Math.max(1, Math.ceil(s.curve.length / (s.radius / 2)));
  for (let i = 0; i <= n; i++) {
    if (!faceMeets(work.stock, s, i / n, TOUCH)) continue;
    const at = portion(s, i / n, i / n);
    offer(work.checks.rapid, -at.z0, () => spotOf(work, s, at.curve.x0, at.curve.y0));
    return;
  }
}

function judgeFeed(work: Work, s: Stroke): void {
  const { limits, programs } = work.input;
  const cutter = programs[s.program]?.cutter as TargetCutter;
  const light = Math.max(limits.finishStock * 1.5, 0.1 * cutter.effectiveDiameter);
  const bounds: Bounds = { limits, light, deepest: work.checks.depth.limit, run: work.run };
  const found = engage(work.stock, s, bounds);
  if (!found.cuts) return;
  if (!s.drill) {
    offer(work.checks.depth, found.depth, () => spotOf(work, s, found.x, found.y));
    if (found.entry > 0) {
      offer(work.checks.entry, degrees(found.entry), () => spotOf(work, s, found.x, found.y));
    }
  }
  judgeChip(work, s, cutter);
}

function judgeChip(work: Work, s: Stroke, cutter: TargetCutter): void {
  if (s.rpm === 0 || s.feed === 0) return;
  const perRev = s.feed / s.rpm;
  const { least, most } = cutter.feedPerRev;
  const x = xAt(s.curve, 0.5);
  const y = yAt(s.curve, 0.5);
  const { wall, outer } = edgeFactors(work, s, x, y);
  const spot = (): Spot => spotOf(work, s, x, y);
  offer(work.checks.chipMost, perRev * wall, spot, most * (1 + CHIP_ROOM));
  offer(work.checks.chipLeast, perRev * outer, spot, least * (1 - CHIP_ROOM));
}

/** Speed of the edge over that of the centre: at the wall that is being cut, and on the outer side. */
function edgeFactors(work: Work, s: Stroke, x: number, y: number): { wall: number; outer: number } {
  const { curve, radius } = s;
  if (!curve.isArc || curve.r <= 0) return { wall: 1, outer: 1 };
  const outer = (curve.r + radius) / curve.r;
  const reach = radius + work.input.limits.finishStock * 1.5 + AT_WALL;
  let least = reach;
  let foot: readonly [number, number] | undefined;
  visit(work.target.grid, [x - reach, y - reach, x + reach, y + reach], (i) => {
    const wall = (work.target.walls[i] as Wall).curve;
    const d = distanceToPoint(wall, x, y);
    if (d >= least) return;
    least = d;
    const t = nearestT(wall, x, y);
    foot = [xAt(wall, t), yAt(wall, t)];
  });
  if (foot === undefined) return { wall: 1, outer };
  const away = (foot[0] - x) * (x - curve.cx) + (foot[1] - y) * (y - curve.cy);
  return { wall: away > 0 ? outer : Math.max(0, curve.r - radius) / curve.r, outer };
}
