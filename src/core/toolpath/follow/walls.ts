/**
 * Rings of the cutter's centre beside a plate's walls, worked out once in the plate frame and placed
 * for every copy: copies cost a transform, not an offset, and are equal to the last digit.
 */
import { oriented, placeContour, signedArea } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { remembering } from "../../geometry/remember.ts";
import type { Contour } from "../../geometry/shape.ts";
import type { Placement } from "../../layout/layout.ts";
import type { Feature, Plate } from "../../plate/plate.ts";

const known = remembering<Plate, Contour[]>();

function positive(rings: readonly Contour[]): Contour[] {
  return rings.filter((c) => signedArea(c) > 0);
}

/**
 * Counter-clockwise rings `distance` inside an opening, plate frame; none where nothing is so far from the wall.
 * Asked again, the same objects.
 */
export function ringsInside(plate: Plate, { id }: Feature, distance: number): readonly Contour[] {
  const { contour } = plate.features[id] as Feature;
  return known(plate, `${id}/${distance}`, () =>
    positive(offsetRings([oriented(contour, true)], -distance)),
  );
}

/** The outermost ring `distance` outside the plate's outline, sheet frame. */
export function ringOutside({ plate, plateToSheet }: Placement, distance: number): Contour {
  const [ring] = known(plate, `outline/${distance}`, () => {
    const grown = positive(offsetRings([oriented(plate.outer, true)], distance));
    return grown.sort((a, b) => signedArea(b) - signedArea(a)).slice(0, 1);
  });
  // Growing an outline always leaves a ring; without one, the outline itself is the honest answer.
  return placeContour(ring ?? oriented(plate.outer, true), plateToSheet);
}
