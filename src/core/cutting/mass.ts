/**
 * Mass of a plate, g, from its area in mm², thickness in mm and the density's range. Weighed plates come
 * out within some 8 % of it (common practice, no source): thickness varies, and so does the share of resin.
 */
import type { MaterialName } from "./cutter.ts";
import { DENSITY, type Density } from "./data/materials.ts";
import { cite } from "./data/source.ts";

export interface Mass {
  readonly g: number;
  readonly least: number;
  readonly most: number;
  readonly assumption: string;
}

export interface MassOptions {
  /** The user's own, g/cm³. */
  readonly density?: number | undefined;
  /** Cleared out of the plate without going through, mm³. */
  readonly recessed?: number | undefined;
}

export function massOf(
  area: number,
  thickness: number,
  material: MaterialName,
  options: MassOptions = {},
): Mass {
  const density = densityOf(material, options.density);
  const cm3 = Math.max(0, area * thickness - (options.recessed ?? 0)) / 1000;
  return {
    g: cm3 * density.value,
    least: cm3 * density.least,
    most: cm3 * density.most,
    assumption: `Mass of ${material} at ${density.value} g/cm³${density.least < density.most ? `, ${density.least}–${density.most}` : ""}: ${cite(density.source)}.`,
  };
}

function densityOf(material: MaterialName, own: number | undefined): Density {
  if (own === undefined) return DENSITY[material];
  const source = { text: "density of the sheet in the job", tag: "the user's own" } as const;
  return { value: own, least: own, most: own, source };
}
