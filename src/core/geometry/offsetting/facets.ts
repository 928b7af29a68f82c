/**
 * Rails as polygons in whole units for Clipper, with the piece that each edge belongs to. Arc vertices
 * lie on the arc itself, so that a result vertex can be told by its coordinates alone.
 */
import { toUnits, type UnitFrame, type UnitPath, type UnitPoint } from "../clipper/clipper.ts";
import { chords } from "../contour.ts";
import { pointAt } from "../segment.ts";
import type { Point } from "../shape.ts";
import type { Rail } from "./rail.ts";

export interface Facets {
  readonly paths: readonly UnitPath[];
  /** Pieces that an edge leaving from, or arriving at, these coordinates belongs to. */
  readonly leaving: ReadonlyMap<number, readonly number[]>;
  readonly arriving: ReadonlyMap<number, readonly number[]>;
}

/** One number for a vertex: coordinates stay under 2^26 either way. */
export function keyOf(p: UnitPoint): number {
  return p.X * 134217728 + p.Y;
}

/** Pieces are numbered through all rails in order. */
export function facetsOf(rails: readonly Rail[], frame: UnitFrame, facet: number): Facets {
  const leaving = new Map<number, number[]>();
  const arriving = new Map<number, number[]>();
  const paths: UnitPath[] = [];
  let number = 0;
  for (const rail of rails) {
    const path: UnitPath = [];
    const add = (p: Point): UnitPoint => {
      const unit = toUnits(p, frame);
      path.push(unit);
      return unit;
    };
    if (rail.pieces.length === 0) for (const p of rail.via[0] ?? []) add(p);
    rail.pieces.forEach((piece, k) => {
      const s = piece.trimmed;
      const n = s.kind === "arc" ? chords(s.radius, s.sweep, facet) : 1;
      note(leaving, add(s.from), number);
      for (let i = 1; i < n; i++) {
        const unit = add(pointAt(s, i / n));
        note(arriving, unit, number);
        note(leaving, unit, number);
      }
      const via = rail.via[k] as readonly Point[];
      note(arriving, via.length > 0 ? add(s.to) : toUnits(s.to, frame), number);
      for (const p of via) add(p);
      number++;
    });
    if (path.length > 2) paths.push(path);
  }
  return { paths, leaving, arriving };
}

function note(map: Map<number, number[]>, p: UnitPoint, piece: number): void {
  const key = keyOf(p);
  const list = map.get(key);
  if (list === undefined) map.set(key, [piece]);
  else if (!list.includes(piece)) list.push(piece);
}
