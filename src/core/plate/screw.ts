/** Metric screws and the holes that take them, mm: ISO 273, fine, medium and coarse series. */

export const SCREWS = ["M2", "M2.5", "M3", "M4", "M5"] as const;
export type Screw = (typeof SCREWS)[number];

export type Series = "fine" | "medium" | "coarse";
const SERIES: readonly Series[] = ["fine", "medium", "coarse"];

const CLEARANCE_HOLES: Readonly<Record<Screw, readonly [number, number, number]>> = {
  M2: [2.2, 2.4, 2.6],
  "M2.5": [2.7, 2.9, 3.1],
  M3: [3.2, 3.4, 3.6],
  M4: [4.3, 4.5, 4.8],
  M5: [5.3, 5.5, 5.8],
};

export function clearanceHole(screw: Screw, series: Series): number {
  const [fine, medium, coarse] = CLEARANCE_HOLES[screw];
  return series === "fine" ? fine : series === "coarse" ? coarse : medium;
}

/** Nominal diameter. */
export function nominal(screw: Screw): number {
  return Number(screw.slice(1));
}

/** Drawings are on a grid far finer than this, mm. */
const SAME = 0.005;

/** `M3 medium` where a hole is one of the table's; undefined where it is not. */
export function clearanceName(diameter: number): string | undefined {
  for (const screw of SCREWS) {
    const series = SERIES.find((s) => Math.abs(clearanceHole(screw, s) - diameter) < SAME);
    if (series !== undefined) return `${screw} ${series}`;
  }
  return undefined;
}
