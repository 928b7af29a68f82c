/**
 * What hangs together: every plate is free above its tabs, held by them at the underside, and nothing
 * lies loose in its holes.
 */
import { contains } from "../../geometry/contour.ts";
import type { Point } from "../../geometry/shape.ts";
import type { TargetPlate } from "../proof.ts";
import { measure, ringPoint } from "../removal/ring.ts";
import { joinRows, type Piece, pieceAt, type Rows, remainingRows } from "../removal/rows.ts";
import { below, type Stroke } from "../removal/stroke.ts";
import { isRecess, isSolid, type Ring, type Target } from "../target.ts";
import { mostOf, offer, type Worst } from "./worst.ts";

/** Between rows, mm: a twentieth of the kerf of a 2 mm cutter. */
const PITCH = 0.1;
/** Dust: a loose crumb below this area is blown away, mm². */
const CRUMB = 0.02;
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

export function checkJoin(
  target: Target,
  strokes: readonly Stroke[],
  aboveTabs: number,
  box: Box,
): JoinChecks {
  const { sheet } = target;
  const checks: JoinChecks = {
    free: mostOf("plate-not-free", "plates", 0),
    held: mostOf("plate-not-held", "plates", 0),
    loose: mostOf("loose-in-hole", "mm²", CRUMB),
  };
  const under = cakeAt(box, strokes, -sheet.thickness);
  const upper = aboveTabs > -sheet.thickness ? cakeAt(box, strokes, aboveTabs) : under;
  checkFree(target, upper, checks.free);
  const plates = checkHeld(target, under, checks.held);
  checkLoose(target, under, plates, checks.loose);
  for (const depth of new Set(target.floors)) {
    const floor = cakeAt(box, strokes, depth + 0.03);
    checkFloor(target, floor, depth, checks.loose);
  }
  return checks;
}

function cakeAt(box: Box, strokes: readonly Stroke[], z: number): Cake {
  const parts = strokes.map((s) => below(s, z)).filter((s) => s !== undefined);
  const rows = remainingRows(box, PITCH, parts);
  return { rows, pieces: joinRows(rows) };
}

/** The piece that a plate's material is, or −1 where no place in it was found. */
function pieceOf(plate: TargetPlate, outline: Ring, cake: Cake): number {
  const m = measure(outline.curves);
  for (const inset of INSET) {
    for (let i = 0; i < LOOKS; i++) {
      const p = ringPoint(outline, m, (m.length * (i + 0.37)) / LOOKS);
      const at: Point = { x: p.x - p.nx * inset, y: p.y - p.ny * inset };
      if (!isSolid(plate, at, Number.NEGATIVE_INFINITY)) continue;
      const piece = pieceAt(cake.rows, at.x, at.y);
      if (piece >= 0) return piece;
    }
  }
  return -1;
}

const outlines = (target: Target): readonly Ring[] =>
  target.rings.filter((r) => r.feature === undefined);

function checkFree(target: Target, cake: Cake, free: Worst): void {
  const owner = new Map<number, TargetPlate>();
  let bad = 0;
  offer(free, 0, () => ({}));
  for (const ring of outlines(target)) {
    const piece = pieceOf(ring.plate, ring, cake);
    const joined = piece < 0 || cake.pieces[piece]?.outer === true || owner.has(piece);
    owner.set(piece, ring.plate);
    if (!joined) continue;
    bad++;
    const p = ring.curves[0];
    offer(free, bad, () => ({
      sheet: target.sheet.name,
      plate: ring.plate.plate,
      at: p === undefined ? undefined : [p.x0, p.y0],
    }));
  }
}

function checkHeld(target: Target, cake: Cake, held: Worst): Set<number> {
  const plates = new Set<number>();
  let bad = 0;
  offer(held, 0, () => ({}));
  for (const ring of outlines(target)) {
    const piece = pieceOf(ring.plate, ring, cake);
    plates.add(piece);
    if (ring.tabs.length === 0 || cake.pieces[piece]?.outer === true) continue;
    bad++;
    const tab = ring.tabs[0];
    offer(held, bad, () => ({
      sheet: target.sheet.name,
      plate: ring.plate.plate,
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

function ringAround(target: Target, p: Point, recess: boolean): Ring | undefined {
  return target.rings.find(
    (r) => r.feature !== undefined && isRecess(r.feature) === recess && contains(r.contour, p),
  );
}

/** Whatever stands alone on the floor of a recess; what leans on its wall, the contour's check finds. */
function checkFloor(target: Target, cake: Cake, depth: number, loose: Worst): void {
  for (const piece of cake.pieces) {
    if (piece.outer) continue;
    const ring = ringAround(target, piece, true);
    if (ring?.feature === undefined || -(ring.feature.depth ?? 0) > depth + 0.02) continue;
    const whole = target.sheet.plates.some((plate) => isSolid(plate, piece, depth));
    if (whole) continue;
    offer(loose, piece.area, () => ({
      at: [piece.x, piece.y],
      sheet: target.sheet.name,
      plate: ring.plate.plate,
      drawing: ring.contour.segments[0]?.origin,
    }));
  }
}
