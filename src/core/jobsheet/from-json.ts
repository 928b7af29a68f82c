/** Plates of plan.json as they were drawn, for pictures and sizes. */
import { placeContour } from "../geometry/contour.ts";
import type { Contour } from "../geometry/shape.ts";
import { radians } from "../geometry/trig.ts";
import type { ContourJson, PlacementJson, SheetJson } from "../job/plan-json.ts";
import { contourOf } from "../job/planning/contour-json.ts";

/** A plate as it was drawn: turned and flipped back, where it lies in the drawing left open. */
export function asDrawn(contour: ContourJson, p: PlacementJson): Contour {
  // Turning by −a and then flipping is flipping and then turning by +a.
  const angle = radians(p.flipped ? p.rotationDeg : -p.rotationDeg);
  return placeContour(contourOf(contour), { x: 0, y: 0, angle, flipped: p.flipped });
}

/** Copies of one plate, and the sheet that they are cut from. */
export interface Kind {
  readonly plate: string;
  readonly sheet: SheetJson;
  readonly first: PlacementJson;
  readonly count: number;
}

export function kindsOf(sheets: readonly SheetJson[]): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const sheet of sheets) {
    for (const first of sheet.placements) {
      const known = kinds.get(first.plate);
      if (known === undefined)
        kinds.set(first.plate, { plate: first.plate, sheet, first, count: 1 });
      else kinds.set(first.plate, { ...known, count: known.count + 1 });
    }
  }
  return [...kinds.values()];
}
