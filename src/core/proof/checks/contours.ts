/**
 * Every ring of a sheet against what was swept: what is left, corners, and the bridges at its tabs.
 *
 * A ring with tabs is judged twice: at the underside, where it may be open at its tabs alone, and just
 * above them, where it may not. What is open at some depth stays open below it, so these two say all.
 */
import { contains } from "../../geometry/contour.ts";
import type { ProofInput, TargetTab } from "../proof.ts";
import type { Stretch } from "../removal/coverage.ts";
import { type Level, levelAt } from "../removal/level.ts";
import { type Measured, measure, openOf, ringFoot, ringPoint } from "../removal/ring.ts";
import type { Stroke } from "../removal/stroke.ts";
import { isRecess, type Ring, type Target } from "../target.ts";
import { bridgeHeight, bridgeWidth } from "./bridges.ts";
import { isCorner, LEFT, leftover } from "./left.ts";
import { leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Tabs may miss their size by this, mm: rounding of coordinates and a rise that is not quite upright. */
const TAB_ROOM = 0.02;
/** A recess's floor may lie this much too high, mm. */
const FLOOR_ROOM = 0.02;
/** A bridge may be this much longer than a tab and a cutter; more is a piece that was forgotten. */
const LONG = 1.5;
/** A corner may reach this many cutter radii away: that of 40 degrees has 1.9, sharper ones are uncut. */
const CORNER_RADII = 3;

export interface ContourChecks {
  readonly left: Worst;
  readonly corner: Worst;
  readonly tabWidth: Worst;
  readonly tabHeight: Worst;
  readonly tabLength: Worst;
  leftMm2: number;
  cornerMm2: number;
  cornerMm: number;
}

interface Work {
  readonly input: ProofInput;
  readonly target: Target;
  readonly strokes: readonly Stroke[];
  readonly levels: Map<number, Level>;
  readonly checks: ContourChecks;
  /** Least radius of the cutters used on the sheet. */
  readonly finest: number;
}

export function checkContours(
  input: ProofInput,
  target: Target,
  strokes: readonly Stroke[],
): ContourChecks {
  const finest = strokes.reduce((r, s) => Math.min(r, s.radius), Number.POSITIVE_INFINITY);
  const checks: ContourChecks = {
    left: mostOf("left-standing", "mm", LEFT),
    corner: mostOf("corner-left", "mm", CORNER_RADII * (Number.isFinite(finest) ? finest : 0)),
    tabWidth: leastOf("tab-width", "mm", 0),
    tabHeight: leastOf("tab-height", "mm", 0),
    tabLength: mostOf("tab-length", "mm", 0),
    leftMm2: 0,
    cornerMm2: 0,
    cornerMm: 0,
  };
  offer(checks.left, 0, () => ({}));
  const work: Work = { input, target, strokes, levels: new Map(), checks, finest };
  for (const ring of target.rings) checkRing(work, ring);
  return checks;
}

function levelOf(work: Work, z: number): Level {
  const known = work.levels.get(z);
  if (known !== undefined) return known;
  const level = levelAt(z, work.strokes);
  work.levels.set(z, level);
  return level;
}

function checkRing(work: Work, ring: Ring): void {
  const { thickness } = work.target.sheet;
  const m = measure(ring.curves);
  if (m.length === 0) return;
  if (ring.feature !== undefined && isRecess(ring.feature)) {
    judge(work, ring, m, levelOf(work, -(ring.feature.depth ?? 0) + FLOOR_ROOM), []);
    return;
  }
  judge(work, ring, m, levelOf(work, -thickness), ring.tabs);
  const tallest = ring.tabs.reduce((h, t) => Math.max(h, t.height), 0);
  if (tallest > 0) judge(work, ring, m, levelOf(work, -thickness + tallest + TAB_ROOM), []);
}

function judge(
  work: Work,
  ring: Ring,
  m: Measured,
  level: Level,
  tabs: readonly TargetTab[],
): void {
  const { open, radius } = openOf(ring, m, level, LEFT);
  const cutter = radius ?? work.finest;
  for (const tab of tabs) judgeTab(work, ring, m, tab, cutter);
  for (const stretch of open) {
    const held = tabs.filter((tab) => lies(stretch, ringFoot(ring, m, tab.at.x, tab.at.y), m));
    if (held.length > 0) judgeLength(work, ring, m, stretch, held, cutter);
    else judgeOpen(work, ring, m, level, stretch, cutter);
  }
}

function lies(stretch: Stretch, s: number, m: Measured): boolean {
  return [s, s + m.length].some((at) => stretch.from - 0.1 <= at && at <= stretch.to + 0.1);
}

function spotAt(work: Work, ring: Ring, x: number, y: number, index: number): Spot {
  return {
    at: [x, y],
    sheet: work.target.sheet.name,
    plate: ring.plate.plate,
    drawing: ring.contour.segments[index]?.origin,
  };
}

function judgeOpen(
  work: Work,
  ring: Ring,
  m: Measured,
  level: Level,
  stretch: Stretch,
  radius: number,
): void {
  const { checks, target } = work;
  if (outsidePlate(ring, m, stretch)) return;
  const found = leftover(ring, m, level, stretch, Number.isFinite(radius) ? radius : 1);
  const spot = (): Spot => spotAt(work, ring, found.at.x, found.at.y, found.at.index);
  const final = level.z <= -target.sheet.thickness || ring.feature?.kind === "recess";
  if (Number.isFinite(radius) && isCorner(target, ring, m, stretch, radius, level.z)) {
    offer(checks.corner, found.mm, spot);
    if (!final) return;
    checks.cornerMm2 += found.area;
    checks.cornerMm = Math.max(checks.cornerMm, found.mm);
    return;
  }
  offer(checks.left, found.mm, spot);
  if (final) checks.leftMm2 += found.area;
}

/** A recess may run out over the edge of its plate; there is no wall to make. */
function outsidePlate(ring: Ring, m: Measured, stretch: Stretch): boolean {
  if (ring.feature?.kind !== "recess") return false;
  return !contains(ring.plate.outer, ringPoint(ring, m, (stretch.from + stretch.to) / 2));
}

function judgeLength(
  work: Work,
  ring: Ring,
  m: Measured,
  stretch: Stretch,
  tabs: readonly TargetTab[],
  radius: number,
): void {
  const allowed = tabs.reduce((sum, t) => sum + (t.width + 2 * radius) * LONG, 0);
  const p = ringPoint(ring, m, (stretch.from + stretch.to) / 2);
  const spot = (): Spot => spotAt(work, ring, p.x, p.y, p.index);
  offer(work.checks.tabLength, stretch.to - stretch.from, spot, allowed);
}

function judgeTab(work: Work, ring: Ring, m: Measured, tab: TargetTab, radius: number): void {
  const { checks, target, input, strokes } = work;
  const { thickness } = target.sheet;
  const p = ringPoint(ring, m, ringFoot(ring, m, tab.at.x, tab.at.y));
  const low = levelOf(work, -thickness + tab.height - TAB_ROOM);
  const width = bridgeWidth(ring, tab, low, radius);
  offer(checks.tabWidth, width, () => spotAt(work, ring, p.x, p.y, p.index), tab.width - TAB_ROOM);
  const { height, by } = bridgeHeight(ring, tab, nearStrokes(strokes, p.x, p.y), thickness);
  const spot = (): Spot => ({
    ...spotAt(work, ring, p.x, p.y, p.index),
    program:
      by === undefined
        ? undefined
        : { file: input.programs[by.program]?.file ?? "", line: by.line },
  });
  offer(checks.tabHeight, height, spot, tab.height - TAB_ROOM);
}

function nearStrokes(strokes: readonly Stroke[], x: number, y: number): Stroke[] {
  return strokes.filter((s) => {
    if (s.z0 >= 0 && s.z1 >= 0) return false;
    const { curve } = s;
    const reach = 4 * s.radius + curve.length;
    return Math.abs(curve.x0 - x) < reach + 10 && Math.abs(curve.y0 - y) < reach + 10;
  });
}
