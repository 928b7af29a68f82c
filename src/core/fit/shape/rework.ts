/** Plates with other contours: features recognised anew, area, length and bounds measured anew. */
import type { Finding } from "../../finding/finding.ts";
import { bounds, perimeter, signedArea } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import { featureOf } from "../../plate/feature.ts";
import type { Feature, Plate } from "../../plate/plate.ts";
import { tidyContour } from "../../plate/snap.ts";
import type { FitChange } from "../mate.ts";

/** A plate after one step of fitting, and what that step has to say. */
export interface Step {
  readonly plate: Plate;
  readonly changes: readonly FitChange[];
  readonly findings: readonly Finding[];
}

export function remade(f: Feature, contour: Contour): Feature {
  const tidy = tidyContour(contour, false);
  return tidy === undefined ? f : featureOf(f.id, tidy, f.depth);
}

export function withFeatures(plate: Plate, features: readonly Feature[]): Plate {
  return measured({ ...plate, features });
}

export function withOuter(plate: Plate, outer: Contour): Plate {
  const tidy = tidyContour(outer, true);
  return tidy === undefined ? plate : measured({ ...plate, outer: tidy });
}

function measured(plate: Plate): Plate {
  const { outer, features } = plate;
  const through = features.filter((f) => f.depth === undefined);
  const area = through.reduce((a, f) => a - f.area, signedArea(outer));
  // What facets took from a drawn circle stays taken, whatever else is changed.
  const drawn =
    plate.drawnArea === undefined ? {} : { drawnArea: area + plate.drawnArea - plate.area };
  return { ...plate, area, ...drawn, perimeter: perimeter(outer), bounds: bounds(outer) };
}
