/**
 * Machines and cutters whose travel, rate, spindle, power, length or block rate cannot serve: the finding names the
 * number that is in the way and what to do, and what stops does stop.
 */
import { describe, expect, test } from "vitest";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { planJob } from "../../src/core/job/plan.ts";
import { starterFile } from "./starter-plan.ts";

type Edit = readonly [from: string, to: string];

function findingsWith(edits: readonly Edit[]): readonly Finding[] {
  const texts: Record<string, string> = { "job.yaml": JOB_YAML, "machine.yaml": MACHINE_YAML };
  for (const [from, to] of edits) {
    const file = Object.keys(texts).find((f) => texts[f]?.includes(from));
    if (file === undefined) expect.unreachable(`${from} is in neither file`);
    texts[file] = texts[file]?.replace(from, to) ?? "";
  }
  const read = (name: string): Uint8Array | undefined => {
    const text = texts[name];
    return text === undefined ? starterFile(name) : new TextEncoder().encode(text);
  };
  const { value, findings } = parseJob({ name: "job.yaml", text: texts["job.yaml"] ?? "" }, read);
  if (value === undefined) return findings;
  const planned = planJob(value, read);
  expect(planned.stopped).toBe(planned.findings.some((f) => f.severity === "stop"));
  expect(planned.files.size > 0).toBe(!planned.stopped);
  return [...findings, ...planned.findings];
}

interface Case {
  readonly name: string;
  readonly edits: readonly Edit[];
  readonly code: string;
  readonly severity: Finding["severity"];
  /** What there is, and what is wanted, as the sentence has them. */
  readonly numbers: readonly string[];
  readonly wayOut: RegExp;
}

const TRAVEL = "travel: [300, 200, 60]";
const FEED = "maxFeed: [3000, 3000, 1000]";

const CASES: readonly Case[] = [
  {
    name: "travel in X",
    edits: [[TRAVEL, "travel: [80, 200, 60]"]],
    code: "travel-x",
    severity: "stop",
    numbers: ["145.1 mm", "80 mm"],
    wayOut: /nearer together or turned.*at least 146 mm of travel in X/,
  },
  {
    name: "travel in Y",
    edits: [[TRAVEL, "travel: [300, 25, 60]"]],
    code: "travel-y",
    severity: "stop",
    numbers: ["33.1 mm", "25 mm"],
    wayOut: /at least 34 mm of travel in Y/,
  },
  {
    name: "travel in Z, less than a sheet and its clearance",
    edits: [[TRAVEL, "travel: [300, 200, 8]"]],
    code: "z-travel-too-short",
    severity: "stop",
    // 2 of sheet, 0.25 below it, 6 above it.
    numbers: ["8.25 mm", "8 mm"],
    wayOut: /clearance to 5.75 mm or less/,
  },
  {
    name: "travel in Z, less than any clearance",
    edits: [[TRAVEL, "travel: [300, 200, 2]"]],
    code: "z-travel-too-short",
    severity: "stop",
    numbers: ["8.25 mm", "2 mm"],
    wayOut: /more than 8.25 mm in Z/,
  },
  {
    name: "travel in Z, less than the cutter stands out",
    edits: [[TRAVEL, "travel: [300, 200, 12]"]],
    code: "cutter-longer-than-reach",
    severity: "stop",
    numbers: ["14 mm", "12 mm"],
    wayOut: /further into the collet/,
  },
  {
    name: "a sheet that the machine cannot go round, though it reaches all plates",
    edits: [[TRAVEL, "travel: [180, 200, 60]"]],
    code: "border-beyond-travel",
    severity: "note",
    numbers: ["200 mm", "180 mm"],
    wayOut: /box of all cuts is in reach/,
  },
  {
    name: "feed of X",
    edits: [[FEED, "maxFeed: [200, 3000, 1000]"]],
    code: "machine-feed-limits",
    severity: "note",
    numbers: ["737 mm/min", "200"],
    wayOut: /maxFeed/,
  },
  {
    name: "feed of Y, too little for a chip in a slot",
    edits: [[FEED, "maxFeed: [3000, 40, 1000]"]],
    code: "chip-too-thin",
    severity: "stop",
    numbers: ["0.0025 mm", "0.00294 mm"],
    wayOut: /1\.18 times the feed.*maxFeed.*spindle\.min/,
  },
  {
    name: "feed of Z, too little for a chip on the slope of a tab",
    edits: [[FEED, "maxFeed: [3000, 3000, 20]"]],
    code: "chip-too-thin",
    severity: "stop",
    numbers: ["0.00147 mm", "0.00294 mm"],
    wayOut: /Z on ramps and tabs/,
  },
  {
    name: "a spindle too slow for the cutter",
    edits: [["max: 24000", "max: 9000"]],
    code: "spindle-far-below-wanted",
    severity: "warn",
    numbers: ["19099 rpm", "9000"],
    wayOut: /larger cutter.*faster spindle/,
  },
  {
    name: "a spindle that cannot go slow enough",
    edits: [
      ["min: 8000", "min: 30000"],
      ["max: 24000", "max: 60000"],
    ],
    code: "spindle-minimum-above-wanted",
    severity: "warn",
    numbers: ["19099 rpm", "30000"],
    wayOut: /smaller cutter/,
  },
  {
    name: "a spindle that would burn the cutter",
    edits: [
      ["min: 8000", "min: 90000"],
      ["max: 24000", "max: 100000"],
    ],
    code: "spindle-too-fast",
    severity: "stop",
    numbers: ["90000 rpm", "565 m/min", "300"],
    wayOut: /smaller cutter.*19099 rpm/,
  },
  {
    name: "a spindle's range the wrong way round",
    edits: [["min: 8000", "min: 30000"]],
    code: "spindle-range-reversed",
    severity: "stop",
    numbers: ["30000", "24000"],
    wayOut: /min is the slowest/,
  },
  {
    name: "power for shallow passes only",
    edits: [["powerW: 400", "powerW: 20"]],
    code: "spindle-limits-passes",
    severity: "note",
    // 0.8 of it reaches the cut.
    numbers: ["16 W", "0.39 mm", "1 mm"],
    wayOut: /40\.6 W.*51 W of powerW/,
  },
  {
    name: "power for no pass at all",
    edits: [["powerW: 400", "powerW: 0.5"]],
    code: "spindle-too-weak",
    severity: "warn",
    numbers: ["0.4 W", "0.05 mm", "2 W"],
    wayOut: /smaller cutter.*3 W/,
  },
  {
    name: "power for passes that the job asks for",
    edits: [
      ["powerW: 400", "powerW: 20"],
      ["  rampDeg: 3 ", "  passDepth: 1\n  rampDeg: 3 "],
    ],
    code: "power-above-spindle",
    severity: "warn",
    numbers: ["1 mm", "41 W", "16 W"],
    wayOut: /passDepth to 0.39 mm or less/,
  },
  {
    name: "flutes shorter than the cut",
    edits: [["fluteLength: 8", "fluteLength: 2.1"]],
    code: "flute-shorter-than-cut",
    severity: "stop",
    numbers: ["2.1 mm", "2.25 mm"],
    wayOut: /at least 2.25 mm/,
  },
  {
    name: "a collet that comes down to a clamp beside a plate with a place of its own",
    edits: [
      ["    count: 2\n", "    count: 2\n    place: [ { x: 20, y: 10 } ]\n"],
      ["overhang: 14", "overhang: 4"],
      ["fluteLength: 8", "fluteLength: 4"],
    ],
    code: "keep-out",
    severity: "stop",
    numbers: ["-4.512 mm", "0 mm"],
    wayOut: /4.512 mm away.*overhang/,
  },
  {
    name: "a cutter that bends",
    edits: [["overhang: 14", "overhang: 45"]],
    code: "finish-bends-cutter",
    severity: "warn",
    numbers: ["0.071 mm", "0.025 mm"],
    wayOut: /clamp the cutter shorter/,
  },
  {
    name: "a clearance beyond the travel",
    edits: [["clearance: 6 ", "clearance: 70 "]],
    code: "z-travel-too-short",
    severity: "stop",
    numbers: ["72.25 mm", "60 mm"],
    wayOut: /57.75 mm or less/,
  },
  {
    name: "a block rate below what chords want",
    edits: [
      ["arcs: true", "arcs: false"],
      ["blocksPerSecond: 250", "blocksPerSecond: 10"],
    ],
    code: "feed-lowered-for-blocks",
    severity: "note",
    numbers: ["10 lines a second"],
    wayOut: /blocksPerSecond/,
  },
];

describe.each(CASES)("$name", ({ edits, code, severity, numbers, wayOut }) => {
  test("names the number and the way out", () => {
    const findings = findingsWith(edits);
    const found = findings.find((f) => f.code === code);
    expect(
      found,
      findings.map((f) => `${f.code}: ${f.message} ${f.hint}`).join("\n"),
    ).toBeDefined();
    expect(found?.severity).toBe(severity);
    for (const number of numbers) expect(found?.message).toContain(number);
    expect(found?.hint).toMatch(wayOut);
  });
});

test("a plate without a place is laid where the collet passes the clamps", () => {
  const short: Edit[] = [
    ["overhang: 14", "overhang: 4"],
    ["fluteLength: 8", "fluteLength: 4"],
  ];
  expect(findingsWith(short).filter((f) => f.severity === "stop")).toEqual([]);
});

test("as it is, the starter's machine serves, and none of these is told", () => {
  const codes = new Set(CASES.map((c) => c.code));
  expect(findingsWith([]).filter((f) => codes.has(f.code))).toEqual([]);
});
