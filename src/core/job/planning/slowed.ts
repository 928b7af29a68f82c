/** What a controller without arcs cannot keep up with. */
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayPlan } from "../../finding/say-plan.ts";
import type { Machine } from "../../machine/machine.ts";
import type { Slowed } from "../../program/write/pace.ts";

const say = reporter(sayPlan);

export function slowedFindings(
  file: string,
  { blocks, most }: Slowed,
  { blocksPerSecond }: Machine,
): Finding[] {
  if (blocks === 0) return [];
  const percent = Math.round(most * 100);
  return [say("feed-lowered-for-blocks", { file, blocks, percent, blocksPerSecond })];
}
