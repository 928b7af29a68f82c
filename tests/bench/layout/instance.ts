/** Public instances of irregular strip packing, as plain JSON: width along y fixed, length along x to be made small. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Kind, Turn } from "../../../src/core/layout/search/contact/forms.ts";

export interface Instance {
  readonly name: string;
  readonly stripWidth: number;
  readonly totalArea: number;
  readonly pieces: readonly InstancePiece[];
}

export interface InstancePiece {
  readonly id: string;
  readonly quantity: number;
  /** Degrees; null: any. */
  readonly rotations: readonly number[] | null;
  readonly points: readonly (readonly [number, number])[];
}

export function instancesIn(folder: string): Instance[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith(".json"))
    .sort()
    .map((file) => JSON.parse(readFileSync(join(folder, file), "utf8")) as Instance);
}

/** Steps of free turning, degrees: the instances that allow any turn are searched at these. */
const FREE_STEP = 15;

export function kindsOf(instance: Instance): Kind[] {
  return instance.pieces.map((piece) => {
    const outline = { outer: piece.points.flat(), holes: [] };
    return { outline, grown: new Map([[0, outline]]), level: 0, turns: turnsOf(piece) };
  });
}

function turnsOf(piece: InstancePiece): Turn[] {
  const every = Array.from({ length: 360 / FREE_STEP }, (_, i) => i * FREE_STEP);
  return (piece.rotations ?? every).map((deg) => ({ deg, flipped: false }));
}

/** Kind of each piece, by its place in the list. */
export function pieceList(instance: Instance): number[] {
  return instance.pieces.flatMap((piece, kind) => Array<number>(piece.quantity).fill(kind));
}
