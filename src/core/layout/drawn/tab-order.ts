/**
 * The order in which holding tabs are broken: plate by plate as they were cut; within a plate first the slugs
 * of its windows, then its outline; round a contour in opposite pairs, so that what is left never hangs on
 * one side (common practice, no source).
 */
import type { Point } from "../../geometry/shape.ts";
import { atan2 } from "../../geometry/trig.ts";

export interface TabSpot {
  readonly plate: string;
  readonly copy: number;
  /** The window whose slug it holds; absent for the plate's outline. */
  readonly feature?: number | undefined;
  readonly at: Point;
}

/** The same tabs in breaking order: the first is number 1. Plates come in the order in which `tabs` name them. */
export function breakingOrder<T extends TabSpot>(tabs: readonly T[]): T[] {
  const plates = new Map<string, T[]>();
  for (const tab of tabs) {
    const key = JSON.stringify([tab.plate, tab.copy]);
    plates.set(key, [...(plates.get(key) ?? []), tab]);
  }
  return [...plates.values()].flatMap((mine) => {
    const features = [...new Set(mine.map((t) => t.feature))].sort(slugsFirst);
    return features.flatMap((f) => oppositePairs(mine.filter((t) => t.feature === f)));
  });
}

function slugsFirst(a: number | undefined, b: number | undefined): number {
  if (a === b) return 0;
  if (a === undefined) return 1;
  if (b === undefined) return -1;
  return a - b;
}

function oppositePairs<T extends TabSpot>(tabs: readonly T[]): T[] {
  const middle = {
    x: tabs.reduce((sum, t) => sum + t.at.x, 0) / tabs.length,
    y: tabs.reduce((sum, t) => sum + t.at.y, 0) / tabs.length,
  };
  const round = tabs
    .map((tab, i) => ({ tab, i, angle: atan2(tab.at.y - middle.y, tab.at.x - middle.x) }))
    .sort((a, b) => a.angle - b.angle || a.i - b.i)
    .map((entry) => entry.tab);
  const half = Math.ceil(round.length / 2);
  return round.slice(0, half).flatMap((tab, i) => {
    const opposite = round[i + half];
    return opposite === undefined ? [tab] : [tab, opposite];
  });
}
