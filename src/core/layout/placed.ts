/** A plate with its features in another frame than its own. */
import { placeContour } from "../geometry/contour.ts";
import { placePoint } from "../geometry/segment.ts";
import type { Rigid } from "../geometry/shape.ts";
import type { Feature, Plate } from "../plate/plate.ts";
import type { Placement } from "./layout.ts";

export function placementOf(plate: Plate, plateToSheet: Rigid, copy: number): Placement {
  return {
    plate,
    copy,
    plateToSheet,
    outer: placeContour(plate.outer, plateToSheet),
    features: plate.features.map((f) => placedFeature(f, plateToSheet)),
  };
}

function placedFeature(feature: Feature, toSheet: Rigid): Feature {
  const contour = placeContour(feature.contour, toSheet);
  const at = placePoint(feature.at, toSheet);
  if (feature.angle === undefined) return { ...feature, contour, at };
  const drawn = toSheet.flipped ? Math.PI - feature.angle : feature.angle;
  const turned = (drawn + toSheet.angle) % Math.PI;
  return { ...feature, contour, at, angle: turned < 0 ? turned + Math.PI : turned };
}
