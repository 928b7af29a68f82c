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
import { chainsInside } from "../open/clear.ts";

export interface Walls {
  /** Counter-clockwise rings `distance` inside the opening, sheet frame; none where nothing is so far from the wall. */
  inside(placement: Placement, feature: Feature, distance: number): Contour[];
  /** Chains of rings that clear what is inside the `n`th of `inside`, sheet frame. */
  chains(
    placement: Placement,
    feature: Feature,
    outermost: { readonly distance: number; readonly n: number },
    radius: number,
  ): Contour[][];
  /** Whether one of the rings of `inside` has nothing further inside than `reach`. */
  thin(placement: Placement, feature: Feature, distance: number, reach: number): boolean;
  /** The outermost ring `distance` outside the plate's outline, sheet frame. */
  outside(placement: Placement, distance: number): Contour;
}

const recall = remembering<Plate, Contour[]>();
const recallChains = remembering<Plate, Contour[][]>();

function positive(rings: readonly Contour[]): Contour[] {
  return rings.filter((c) => signedArea(c) > 0);
}

/** As `Walls.inside`, in the plate frame. */
function ringsInside({ plate }: Placement, { id }: Feature, distance: number): Contour[] {
  const { contour } = plate.features[id] as Feature;
  return recall(plate, `${id}/${distance}`, () =>
    positive(offsetRings([oriented(contour, true)], -distance)),
  );
}

export const walls: Walls = {
  inside(placement, feature, distance) {
    const rings = ringsInside(placement, feature, distance);
    return rings.map((c) => placeContour(c, placement.plateToSheet));
  },
  chains(placement, feature, { distance, n }, radius) {
    const key = `${feature.id}/${distance}/${n}/${radius}`;
    const chains = recallChains(placement.plate, key, () => {
      const ring = ringsInside(placement, feature, distance)[n];
      return ring === undefined ? [] : chainsInside(ring, radius);
    });
    return chains.map((chain) => chain.map((c) => placeContour(c, placement.plateToSheet)));
  },
  thin(placement, feature, distance, reach) {
    const left = recall(placement.plate, `${feature.id}/${distance}/thin/${reach}`, () =>
      ringsInside(placement, feature, distance).filter(
        (ring) => offsetRings([ring], -reach).length === 0,
      ),
    );
    return left.length > 0;
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
