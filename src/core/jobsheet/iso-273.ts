/** Clearance holes for metric screws, mm: ISO 273, fine, medium and coarse series. */
const SERIES = ["fine", "medium", "coarse"] as const;

const HOLES: readonly (readonly [screw: string, ...holes: readonly number[]])[] = [
  ["M2", 2.2, 2.4, 2.6],
  ["M2.5", 2.7, 2.9, 3.1],
  ["M3", 3.2, 3.4, 3.6],
  ["M4", 4.3, 4.5, 4.8],
  ["M5", 5.3, 5.5, 5.8],
];

/** Drawings are on a grid far finer than this, mm. */
const SAME = 0.005;

/** `M3 medium` where a hole is one of the table's; undefined where it is not. */
export function clearanceHole(diameter: number): string | undefined {
  for (const [screw, ...holes] of HOLES) {
    const i = holes.findIndex((d) => Math.abs(d - diameter) < SAME);
    if (i >= 0) return `${screw} ${SERIES[i] ?? ""}`.trim();
  }
  return undefined;
}
