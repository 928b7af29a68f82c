/**
 * A program of as many blocks as wanted, over the sample plan's first sheet: scalloped rings of short arcs and lines, pass below pass,
 * with every word that such a block can have. As dense and as long in characters as weftcut's own get.
 */
import type { PlanJson } from "../../../src/core/job/plan-json.ts";
import { type ProgramRun, runsOf } from "../../../src/core/jobsheet/motion/player-data.ts";
import { samplePlan } from "../sample-plan.ts";

const ARCS_A_RING = 120;
const RINGS = 20;

export function longProgram(blocks: number): string {
  const lines = [
    "(long program)",
    "G21",
    "G90",
    "G17",
    "G94",
    "G54",
    "G0 Z6",
    "S19100 M3",
    "G4 P6",
  ];
  let left = blocks;
  const put = (line: string): void => {
    if (left-- > 0) lines.push(line);
  };
  for (let n = 0; left > 0; n++) {
    const z = -0.25 * (1 + (Math.floor(n / RINGS) % 16));
    ring(30 + 12 * (n % RINGS), 100, z, put);
  }
  lines.push("G0 Z6", "M5", "M30", "");
  return lines.join("\n");
}

/** Scallops round a circle of 25 mm radius, each a line out and an arc back. */
function ring(cx: number, cy: number, z: number, put: (line: string) => void): void {
  const at = (k: number, r: number): [number, number] => {
    const angle = (2 * Math.PI * k) / ARCS_A_RING;
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
  };
  const word = (letter: string, value: number): string => `${letter}${Number(value.toFixed(4))}`;
  const [x, y] = at(0, 25);
  put(`G0 ${word("X", x)} ${word("Y", y)}`);
  put("Z1");
  put(`G1 ${word("Z", z)} F120`);
  let last = [x, y] as const;
  for (let k = 1; k <= ARCS_A_RING; k++) {
    const out = at(k - 0.5, 25.3);
    put(`G1 ${word("X", out[0])} ${word("Y", out[1])} ${word("Z", z + 0.01)} F736`);
    const back = at(k, 25);
    const [i, j] = [(back[0] - out[0]) / 2, (back[1] - out[1]) / 2];
    put(
      `G3 ${word("X", back[0])} ${word("Y", back[1])} ${word("Z", z)} ${word("I", i)} ${word("J", j)} F693`,
    );
    last = [back[0], back[1]];
  }
  put(`G0 ${word("X", last[0])} ${word("Y", last[1])} Z6`);
}

/** The sample plan with one program of so many blocks, read and timed. */
export function longJob(blocks: number): { plan: PlanJson; motion: readonly ProgramRun[] } {
  const sample = samplePlan();
  const [first, ...rest] = sample.programs;
  if (first === undefined) throw new Error("the sample plan has programs");
  const plan = { ...sample, programs: [{ ...first, blocks }, ...rest] };
  return { plan, motion: runsOf(plan, new Map([[first.file, longProgram(blocks)]])) };
}
