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

export interface Walls {
  /** Counter-clockwise rings `distance` inside the opening, sheet frame; none where nothing is so far from the wall. */
  inside(placement: Placement, feature: Feature, distance: number): Contour[];
  /** The outermost ring `distance` outside the plate's outline, sheet frame. */
  outside(placement: Placement, distance: number): Contour;
}

const recall = remembering<Plate, Contour[]>();

function positive(rings: readonly Contour[]): Contour[] {
  return rings.filter((c) => signedArea(c) > 0);
}

export const walls: Walls = {
  inside(placement, feature, distance) {
    const drawn = placement.plate.features[feature.id] as Feature;
    const rings = recall(placement.plate, `${feature.id}/${distance}`, () =>
      positive(offsetRings([oriented(drawn.contour, true)], -distance)),
    );
    return rings.map((c) => placeContour(c, placement.plateToSheet));
  },
  outside(placement, distance) {
    const [ring] = recall(placement.plate, `outline/${distance}`, () => {
      const grown = positive(offsetRings([oriented(placement.plate.outer, true)], distance));
      return grown.sort((a, b) => signedArea(b) - signedArea(a)).slice(0, 1);
    });
    // Growing an outline always leaves a ring; without one, the outline itself is the honest answer.
    return placeContour(ring ?? oriented(placement.plate.outer, true), placement.plateToSheet);
  },
};
