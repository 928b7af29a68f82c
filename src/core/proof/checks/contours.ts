/**
 * Every ring of a sheet against what was swept: what is left, corners, and the bridges at its tabs.
 *
 * A ring with tabs is judged twice: at the underside, where it may be open at its tabs alone, and just
 * above them, where it may not. What is open at some depth stays open below it, so these two say all.
 */
import type { SheetInput, TargetTab } from "../proof.ts";
import type { Stretch } from "../removal/coverage.ts";
import { everyStroke, type Level, type Levels, levelOf } from "../removal/level.ts";
import { openOf, type RingPoint, ringFoot, ringPoint } from "../removal/ring.ts";
import { isRecess, type Part, type Ring, type Target, within } from "../target.ts";
import { bridgeHeight, bridgeWidth, heightBox, wallOverWay } from "./bridges.ts";
import { isCorner, LEFT, leftover } from "./left.ts";
import { leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Tabs may miss their size by this, mm: rounding of coordinates and a rise that is not quite upright. */
export const TAB_ROOM = 0.02;
/** A recess's floor may lie this much too high, mm. */
const FLOOR_ROOM = 0.02;
/** A bridge may be this much longer than a tab and a cutter; more is a piece that was forgotten. */
const LONG = 1.5;
/** A corner may reach this many radii of its own cutter away: that of 40 degrees has 1.9, sharper ones are uncut. */
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
  readonly input: SheetInput;
  readonly target: Target;
  readonly levels: Levels;
  /** Every stroke that cuts near a tab, with its height. */
  readonly every: Level;
  readonly checks: ContourChecks;
  /** Least radius of the cutters used on the sheet. */
  readonly finest: number;
}

export function checkContours(input: SheetInput, target: Target, levels: Levels): ContourChecks {
  const finest = levels.all.reduce((r, s) => Math.min(r, s.radius), Number.POSITIVE_INFINITY);
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
  const widest = levels.all.reduce((r, s) => Math.max(r, s.radius), 0);
  const every = everyStroke(
    levels.all,
    target.sheet.tabs.map((tab) => heightBox(tab, widest)),
  );
  const work: Work = { input, target, levels, every, checks, finest };
  for (const part of target.parts) {
    for (const ring of [part.outline, ...part.inner]) checkRing(work, part, ring);
  }
  return checks;
}

function checkRing(work: Work, part: Part, ring: Ring): void {
  const { thickness } = work.target.sheet;
  if (ring.length === 0) return;
  const judge = (z: number, tabs: readonly TargetTab[]): void =>
    judgeRing({ ...work, part, ring, level: levelOf(work.levels, z) }, tabs);
  if (ring.feature !== undefined && isRecess(ring.feature)) {
    judge(-(ring.feature.depth ?? 0) + FLOOR_ROOM, []);
    return;
  }
  judge(-thickness, ring.tabs);
  const tallest = ring.tabs.reduce((h, t) => Math.max(h, t.height), 0);
  if (tallest > 0) judge(-thickness + tallest + TAB_ROOM, []);
}

/** A ring at a level. */
interface View extends Work {
  readonly part: Part;
  readonly ring: Ring;
  readonly level: Level;
}

function judgeRing(view: View, tabs: readonly TargetTab[]): void {
  const { ring, level } = view;
  const { open, radius } = openOf(ring, level, LEFT);
  const cutter = radius ?? view.finest;
  for (const tab of tabs) judgeTab(view, tab, cutter);
  for (const stretch of open) {
    const held = tabs.filter((tab) => lies(stretch, ringFoot(ring, tab.at.x, tab.at.y), ring));
    if (held.length > 0) judgeLength(view, stretch, held, cutter);
    else judgeOpen(view, stretch, cutter);
  }
}

function lies(stretch: Stretch, s: number, ring: Ring): boolean {
  return [s, s + ring.length].some((at) => stretch.from - 0.1 <= at && at <= stretch.to + 0.1);
}

function spotAt({ target, ring }: View, { x, y, index }: RingPoint): Spot {
  return {
    at: [x, y],
    sheet: target.sheet.name,
    plate: ring.plate.plate,
    drawing: ring.contour.segments[index]?.origin,
  };
}

function judgeOpen(view: View, stretch: Stretch, radius: number): void {
  const { checks, target, ring, level } = view;
  if (outsidePlate(view, stretch)) return;
  const found = leftover(ring, level, stretch, Number.isFinite(radius) ? radius : 1);
  const spot = (): Spot => spotAt(view, found.at);
  const final = level.z <= -target.sheet.thickness || ring.feature?.kind === "recess";
  if (Number.isFinite(radius) && isCorner(target, ring, stretch, radius, level.z)) {
    offer(checks.corner, found.mm, spot, CORNER_RADII * radius);
    if (!final) return;
    checks.cornerMm2 += found.area;
    checks.cornerMm = Math.max(checks.cornerMm, found.mm);
    return;
  }
  offer(checks.left, found.mm, spot);
  if (final) checks.leftMm2 += found.area;
}

/** A recess may run out over the edge of its plate; there is no wall to make. */
function outsidePlate({ part, ring }: View, stretch: Stretch): boolean {
  if (ring.feature?.kind !== "recess") return false;
  const { x, y } = ringPoint(ring, (stretch.from + stretch.to) / 2);
  return !within(part.outline, x, y);
}

function judgeLength(
  view: View,
  stretch: Stretch,
  tabs: readonly TargetTab[],
  radius: number,
): void {
  // At the underside the slope up to the tab's top, at 45°, is part of it; in a bore the wall is longer than the way.
  const allowed = tabs.reduce(
    (sum, t) =>
      sum + ((t.width + 2 * radius) * LONG + t.height) * wallOverWay(view.ring, t, radius),
    0,
  );
  const spot = (): Spot => spotAt(view, ringPoint(view.ring, (stretch.from + stretch.to) / 2));
  offer(view.checks.tabLength, stretch.to - stretch.from, spot, allowed);
}

function judgeTab(view: View, tab: TargetTab, radius: number): void {
  const { checks, target, input, ring } = view;
  const { thickness } = target.sheet;
  const p = ringPoint(ring, ringFoot(ring, tab.at.x, tab.at.y));
  const low = levelOf(view.levels, -thickness + tab.height - TAB_ROOM);
  const width = bridgeWidth(ring, tab, low, radius);
  offer(checks.tabWidth, width, () => spotAt(view, p), tab.width - TAB_ROOM);
  const { height, by } = bridgeHeight(ring, tab, view.every, thickness);
  const spot = (): Spot => ({
    ...spotAt(view, p),
    program:
      by === undefined
        ? undefined
        : { file: input.programs[by.program]?.file ?? "", line: by.line },
  });
  offer(checks.tabHeight, height, spot, tab.height - TAB_ROOM);
}
