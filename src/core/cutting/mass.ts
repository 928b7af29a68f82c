/** Mass of a plate, g, from its area in mm², thickness in mm and the density's range. */
import type { MaterialName } from "./cutter.ts";
import { DENSITY } from "./data/materials.ts";
import { cite } from "./data/source.ts";

export interface Mass {
  readonly g: number;
  readonly least: number;
  readonly most: number;
  readonly assumption: string;
}

export function massOf(area: number, thickness: number, material: MaterialName): Mass {
  const density = DENSITY[material];
  const cm3 = (area * thickness) / 1000;
  return {
    g: cm3 * density.value,
    least: cm3 * density.least,
    most: cm3 * density.most,
    assumption: `Density ${density.value} g/cm³, ${density.least}–${density.most}: ${cite(density.source)}.`,
  };
}
