/**
 * What hangs together: every plate is free above its tabs, held by them at the underside, and nothing
 * lies loose in its holes.
 */

import type { Reach } from "../removal/coverage.ts";
import { type Levels, levelOf } from "../removal/level.ts";
import { ringPoint } from "../removal/ring.ts";
import {
  joinRows,
  type Piece,
  pieceAt,
  type Rows,
  remainingRows,
  wholeRows,
} from "../removal/rows.ts";
import type { Stroke } from "../removal/stroke.ts";
import { isRecess, isSolid, type Part, type Ring, type Target, within } from "../target.ts";
import { mostOf, offer, type Worst } from "./worst.ts";

/**
 * Between rows, mm: a tenth of the kerf of a 2 mm cutter. A thread that is thinner and runs between two
 * rows is not seen here; where it leaves a contour the contour's own check finds it exactly.
 */
const PITCH = 0.2;
/**
 * Dust: a loose crumb below this area is blown away, mm². What is seen on one row alone, and no longer there than rows lie
 * apart, may hang together with the next row by a slanting thread that is as thin: PITCH².
 */
const CRUMB = 0.04;
/** How far inside a plate's outline its material is looked up, mm. */
const INSET: readonly number[] = [0.3, 0.1, 0.8];
const LOOKS = 24;

export interface JoinChecks {
  readonly free: Worst;
  readonly held: Worst;
  readonly loose: Worst;
}

interface Cake {
  readonly rows: Rows;
  readonly pieces: readonly Piece[];
}

type Box = readonly [number, number, number, number];

export function checkJoin(target: Target, levels: Levels, aboveTabs: number, box: Box): JoinChecks {
  const { sheet } = target;
  const checks: JoinChecks = {
    free: mostOf("plate-not-free", "plates", 0),
    held: mostOf("plate-not-held", "plates", 0),
    loose: mostOf("loose-in-hole", "mm²", CRUMB),
  };
  const whole = wholeRows(box, PITCH);
  const lowest = levelOf(levels, -sheet.thickness).strokes;
  const under = cakeOf(whole, lowest);
  const upper = aboveTabs > -sheet.thickness ? cakeAbove(under, lowest, levels, aboveTabs) : under;
  checkFree(target, upper, checks.free);
  const plates = checkHeld(target, under, checks.held);
  checkLoose(target, under, plates, checks.loose);
  for (const depth of new Set(target.floors)) {
    const floor = cakeOf(whole, levelOf(levels, depth + 0.03).strokes);
    checkFloor(target, floor, depth, checks.loose);
  }
  return checks;
}

function cakeOf(before: Rows, strokes: readonly Reach[]): Cake {
  const rows = remainingRows(before, strokes);
  return { rows, pieces: joinRows(rows) };
}

/** What is swept further down is swept here, too: of that, the strokes that end above take the rest. */
function cakeAbove(under: Cake, below: readonly Stroke[], levels: Levels, z: number): Cake {
  const known = new Set(below.map((s) => s.curve));
  return cakeOf(
    under.rows,
    levelOf(levels, z).strokes.filter((s) => !known.has(s.curve)),
  );
}

/** The piece that a plate's material is, or −1 where no place in it was found. */
function pieceOf(part: Part, cake: Cake): number {
  for (const inset of INSET) {
    for (let i = 0; i < LOOKS; i++) {
      const p = ringPoint(part.outline, (part.outline.length * (i + 0.37)) / LOOKS);
      const x = p.x - p.nx * inset;
      const y = p.y - p.ny * inset;
      if (!isSolid(part, x, y, Number.NEGATIVE_INFINITY)) continue;
      const piece = pieceAt(cake.rows, x, y);
      if (piece >= 0) return piece;
    }
  }
  return -1;
}

function checkFree(target: Target, cake: Cake, free: Worst): void {
  const owned = new Set<number>();
  let bad = 0;
  offer(free, 0, () => ({}));
  for (const part of target.parts) {
    const piece = pieceOf(part, cake);
    const joined = piece < 0 || cake.pieces[piece]?.outer === true || owned.has(piece);
    owned.add(piece);
    if (!joined) continue;
    bad++;
    const p = part.outline.curves[0];
    offer(free, bad, () => ({
      sheet: target.sheet.name,
      plate: part.plate.plate,
      at: p === undefined ? undefined : [p.x0, p.y0],
    }));
  }
}

function checkHeld(target: Target, cake: Cake, held: Worst): Set<number> {
  const plates = new Set<number>();
  let bad = 0;
  offer(held, 0, () => ({}));
  for (const part of target.parts) {
    const piece = pieceOf(part, cake);
    plates.add(piece);
    const { tabs } = part.outline;
    if (tabs.length === 0 || cake.pieces[piece]?.outer === true) continue;
    bad++;
    const tab = tabs[0];
    offer(held, bad, () => ({
      sheet: target.sheet.name,
      plate: part.plate.plate,
      at: tab === undefined ? undefined : [tab.at.x, tab.at.y],
    }));
  }
  return plates;
}

function checkLoose(target: Target, cake: Cake, plates: ReadonlySet<number>, loose: Worst): void {
  offer(loose, 0, () => ({}));
  cake.pieces.forEach((piece, i) => {
    if (piece.outer || plates.has(i)) return;
    const ring = ringAround(target, piece, false);
    if (ring === undefined) return;
    offer(loose, piece.area, () => ({
      at: [piece.x, piece.y],
      sheet: target.sheet.name,
      plate: ring.plate.plate,
      drawing: ring.contour.segments[0]?.origin,
    }));
  });
}

function ringAround(target: Target, p: Piece, recess: boolean): Ring | undefined {
  return target.rings.find(
    (r) => r.feature !== undefined && isRecess(r.feature) === recess && within(r, p.x, p.y),
  );
}

/** Whatever stands alone on the floor of a recess; what leans on its wall, the contour's check finds. */
function checkFloor(target: Target, cake: Cake, depth: number, loose: Worst): void {
  for (const piece of cake.pieces) {
    if (piece.outer) continue;
    const ring = ringAround(target, piece, true);
    if (ring?.feature === undefined || -(ring.feature.depth ?? 0) > depth + 0.02) continue;
    const whole = target.parts.some((part) => isSolid(part, piece.x, piece.y, depth));
    if (whole) continue;
    offer(loose, piece.area, () => ({
      at: [piece.x, piece.y],
      sheet: target.sheet.name,
      plate: ring.plate.plate,
      drawing: ring.contour.segments[0]?.origin,
    }));
  }
}
