/**
 * Is it a layout? Judged from the instance and the places alone, by another polygon library (clipper2-ts): none
 * of the search's code is used.
 */
import { areaPaths, Clipper, FillRule, type Path64 } from "clipper2-ts";
import type { StripLayout, StripPlace } from "../../../src/core/layout/search/strip/strip.ts";
import type { Instance, InstancePiece } from "./instance.ts";

/** The strip's longer side in whole units: products of two coordinates stay exact in a double. */
const UNITS = 2 ** 25;

/** What is wrong with a layout; nothing where it is one. */
export function faultsOf(instance: Instance, layout: StripLayout): string[] {
  const polygons = layout.places.map((place) => placed(instance, place));
  return [
    ...miscounted(instance, layout),
    ...outside(instance, layout, polygons),
    ...overlapping(instance, layout, polygons),
  ];
}

type Polygon = readonly (readonly [number, number])[];

function miscounted(instance: Instance, layout: StripLayout): string[] {
  return instance.pieces.flatMap((piece, kind) => {
    const mine = layout.places.filter((p) => p.kind === kind);
    const count = mine.length === piece.quantity ? [] : [`${piece.id}: ${mine.length} copies`];
    const turned = mine.filter(({ deg, flipped }) => flipped || !allowed(piece, deg));
    return [...count, ...turned.map(({ deg }) => `${piece.id}: turned ${deg}`)];
  });
}

function outside(
  { stripWidth }: Instance,
  { length }: StripLayout,
  polygons: readonly Polygon[],
): string[] {
  // Rounding alone: the search holds walls to the last digits.
  const slack = 1e-9 * Math.max(stripWidth, length);
  return polygons.flatMap((points, i) =>
    points
      .filter(([x, y]) => Math.min(x, y, length - x, stripWidth - y) < -slack)
      .map(([x, y]) => `piece ${i} is outside at ${x}, ${y}`),
  );
}

function overlapping(
  { stripWidth }: Instance,
  { length }: StripLayout,
  polygons: readonly Polygon[],
): string[] {
  const scale = UNITS / Math.max(stripWidth, length);
  const paths = polygons.map((points) => toPath(points, scale));
  return paths.flatMap((a, i) =>
    paths.slice(i + 1).flatMap((b, k) => {
      const common = overlap(a, b);
      // Corners rounded to whole units move an edge by less than one unit, and two edges by two.
      const slack = 2 * Math.min(perimeter(a), perimeter(b));
      return common > slack
        ? [`pieces ${i} and ${i + 1 + k} overlap by ${common / scale ** 2}`]
        : [];
    }),
  );
}

function allowed(piece: InstancePiece, deg: number): boolean {
  return piece.rotations === null || piece.rotations.some((r) => (r - deg) % 360 === 0);
}

function placed(instance: Instance, place: StripPlace): [number, number][] {
  const c = Math.cos((place.deg * Math.PI) / 180);
  const s = Math.sin((place.deg * Math.PI) / 180);
  const points = instance.pieces[place.kind]?.points ?? [];
  return points.map(([x, y]) => [c * x - s * y + place.x, s * x + c * y + place.y]);
}

function toPath(points: Polygon, scale: number): Path64 {
  return points.map(([x, y]) => ({ x: Math.round(x * scale), y: Math.round(y * scale) }));
}

function overlap(a: Path64, b: Path64): number {
  return Math.abs(areaPaths(Clipper.intersect([a], [b], FillRule.NonZero)));
}

function perimeter(path: Path64): number {
  return path.reduce((sum, p, i) => {
    const q = path[(i + 1) % path.length] ?? p;
    return sum + Math.hypot(q.x - p.x, q.y - p.y);
  }, 0);
}
