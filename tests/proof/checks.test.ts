/**
 * Every check of the proof has a way to fail it, alone or with others, and says where: the place, the line
 * of the program and the drawing's entity. The job is small and written by hand (job.ts).
 */
import { describe, expect, test } from "vitest";
import { sayProof } from "../../src/core/finding/say-proof.ts";
import type { ProofCheck, ProofInput, TargetPlate } from "../../src/core/proof/proof.ts";
import { prove } from "../../src/core/proof/prove.ts";
import {
  cutter,
  HOLE,
  inputOf,
  limits,
  machine,
  plate,
  polygon,
  program,
  sheet,
} from "./support/job.ts";

const whole = program();
const edited = (from: string | RegExp, to: string): string => {
  const text = whole.replace(from, to);
  expect(text).not.toBe(whole);
  return text;
};
const machined = (change: Partial<typeof machine>): ProofInput =>
  inputOf(whole, { machine: { ...machine, ...change } });
const withCutter = (change: Partial<typeof cutter>): ProofInput => {
  const input = inputOf(whole);
  return {
    ...input,
    programs: input.programs.map((p) => ({ ...p, cutter: { ...cutter, ...change } })),
  };
};
const withSheet = (change: Partial<typeof sheet>): ProofInput =>
  inputOf(whole, { sheets: [{ ...sheet, ...change }] });
const limited = (change: Partial<typeof limits>): ProofInput =>
  inputOf(whole, { limits: { ...limits, ...change } });
const squareHole: TargetPlate = {
  ...plate,
  features: [
    {
      id: 0,
      kind: "window",
      contour: polygon([
        [HOLE.x - 1.8, HOLE.y - 1.8],
        [HOLE.x + 1.8, HOLE.y - 1.8],
        [HOLE.x + 1.8, HOLE.y + 1.8],
        [HOLE.x - 1.8, HOLE.y + 1.8],
      ]),
    },
  ],
};
/** The last, light rounds of the outline, at its left side. */
const FINE = "G1 X9 Y50 Z-2.2";
const HOLE_LAST = `G2 X${HOLE.x + 0.8} Y${HOLE.y} I-0.8`;

const wholeLines = whole.split("\n");
const holeFrom = wholeLines.indexOf(`G0 X${HOLE.x + 0.7} Y${HOLE.y}`);
const outlineFrom = wholeLines.indexOf("G0 X8.9 Y30");
const holeLast = [
  ...wholeLines.slice(0, holeFrom),
  ...wholeLines.slice(outlineFrom, -3),
  "G0 Z5",
  ...wholeLines.slice(holeFrom, outlineFrom),
  ...wholeLines.slice(-3),
].join("\n");

const WAYS: Readonly<Record<keyof typeof sayProof, () => ProofInput>> = {
  overcut: () => inputOf(edited(FINE, "G1 X9.02 Y50 Z-2.2")),
  "left-standing": () => inputOf(edited(HOLE_LAST, "(nothing)")),
  "corner-left": () =>
    inputOf(whole, {
      // A spike of a corner, which a cutter of this size stays far away from.
      sheets: [{ ...sheet, plates: [spiked()] }],
    }),
  "tab-width": () => withSheet({ tabs: sheet.tabs.map((t) => ({ ...t, width: 4.1 })) }),
  "tab-height": () => withSheet({ tabs: sheet.tabs.map((t) => ({ ...t, height: 0.7 })) }),
  "tab-length": () => withSheet({ tabs: sheet.tabs.map((t) => ({ ...t, width: 1.2 })) }),
  "plate-not-free": () =>
    inputOf(
      whole
        .split("\n")
        .filter((l) => !/^G0 X8.9/.test(l))
        .slice(0, 60)
        .join("\n"),
    ),
  "plate-not-held": () => inputOf(whole.replaceAll("Z-1.4", "Z-2.2")),
  "loose-in-hole": () => inputOf(ringHole(), { sheets: [{ ...sheet, plates: [wideHole()] }] }),
  "inner-after-outline": () => inputOf(holeLast),
  "rapid-in-stock": () => inputOf(edited("G0 Z0.5\nG1 Z0 F150", "G0 Z-0.3\nG1 Z0 F150")),
  "rapid-below-clearance": () => inputOf(edited("G0 Z5\nG0 X8.9", "G0 Z4\nG0 X8.9")),
  "low-rapid-room": () =>
    inputOf(holeLast.replace(/G0 Z5\n(?=G0 X30)/g, "G0 Z1\n"), { limits: { ...limits, hop: 1 } }),
  "place-unknown": () => inputOf(edited("G0 Z5\n", "")),
  "feed-without-spindle": () => inputOf(edited("S18000 M3", "S18000")),
  "feed-without-feed": () => inputOf(edited("G1 Z0 F150", "G1 Z0")),
  "entry-angle": () => limited({ rampAngle: limits.rampAngle / 2 }),
  "depth-of-cut": () => limited({ passDepth: 0.5 }),
  "chip-too-thick": () => inputOf(edited("F500", "F1900")),
  "chip-too-thin": () => inputOf(edited("F500", "F30")),
  "through-depth": () => withSheet({ thickness: 1.9 }),
  "deeper-than-flutes": () => withCutter({ fluteLength: 2.1 }),
  "sheet-edge": () => withSheet({ margin: 12 }),
  "keep-out": () => withSheet({ keepOuts: [{ kind: "disc", at: { x: 8, y: 30 }, diameter: 6 }] }),
  "collet-height": () => withCutter({ overhang: 2.1 }),
  "travel-x": () => machined({ travel: [60, 300, 60] }),
  "travel-y": () => machined({ travel: [400, 40, 60] }),
  "travel-z": () => machined({ travel: [400, 300, 7] }),
  "rate-x": () => machined({ maxFeed: [400, 3000, 1000] }),
  "rate-y": () => machined({ maxFeed: [3000, 400, 1000] }),
  "rate-z": () => machined({ maxFeed: [3000, 3000, 400] }),
  "program-errors": () => inputOf(edited("M5", "E5")),
  "states-not-stated": () => inputOf(edited("G17\n", "")),
  "line-length": () => machined({ lineLength: 25 }),
  decimals: () => machined({ decimals: 3 }),
  "motion-not-repeated": () =>
    inputOf(edited("G1 X9 Y50", "X9 Y50"), { machine: { ...machine, repeatMotion: true } }),
  "comments-refused": () => machined({ comments: "none" }),
  "words-refused": () =>
    inputOf(edited("G21", "G21\nG54"), { machine: { ...machine, workOffset: "none" } }),
  // Within the standard's own rule for inch programs, 0.005 mm, and beyond that for mm.
  "arc-ends": () => inputOf(inchHole()),
  "arcs-refused": () => machined({ arcs: false }),
  "spindle-slow": () => inputOf(edited("S18000", "S3000")),
  "spindle-fast": () => inputOf(edited("S18000", "S30000")),
  "spindle-reversed": () => inputOf(edited("M3", "M4")),
  "spin-up": () => inputOf(edited("G4 P3", "G4 P1")),
  "spindle-not-awaited": () =>
    inputOf(whole, {
      machine: { ...machine, spindle: { ...machine.spindle, start: "hand-at-stop" } },
    }),
  "unsafe-end": () => inputOf(edited("\nM5", "")),
  "sheet-not-cut": () => inputOf(whole, { programs: [] }),
};

function inchHole(): string {
  const r = (0.8 / 25.4).toFixed(6);
  const lines = [
    "G20",
    `G2 X${((HOLE.x + 0.8 - 1.6) / 25.4).toFixed(6)} I-${r}`,
    `G2 X${((HOLE.x + 0.8) / 25.4 + 0.00012).toFixed(6)} I${r}`,
    "G21",
  ];
  return edited(HOLE_LAST, lines.join("\n"));
}

function spiked(): TargetPlate {
  const [x, y] = [HOLE.x, HOLE.y];
  const spike = polygon([
    [x - 1.8, y - 0.2],
    [x, y - 1.7],
    [x + 1.8, y - 0.2],
    [x + 1.8, y + 0.2],
    [x + 0.3, y + 1.6],
    [x + 0.02, y + 9],
    [x - 0.02, y + 9],
    [x - 0.3, y + 1.6],
    [x - 1.8, y + 0.2],
  ]);
  return { ...plate, features: [{ id: 0, kind: "window", contour: spike }] };
}

/** A hole whose core the cutter goes round and leaves. */
function wideHole(): TargetPlate {
  const { contour } = plate.features[0] as TargetPlate["features"][number];
  const [s] = contour.segments;
  if (s?.kind !== "arc") throw new Error("a hole is an arc");
  const from = { x: HOLE.x + 3, y: HOLE.y };
  return {
    ...plate,
    features: [
      { id: 0, kind: "hole", contour: { segments: [{ ...s, radius: 3, from, to: from }] } },
    ],
  };
}

function ringHole(): string {
  const turns = Array.from({ length: 20 }, (_, i) => `G2 X32 Y30 Z${-0.11 * (i + 1)} I-2`);
  return [
    ...wholeLines.slice(0, holeFrom),
    "G0 X32 Y30",
    "G0 Z0.5",
    "G1 Z0 F150",
    ...turns.map((l) => l.replace(/Z(-?[\d.]+)/, (_, z: string) => `Z${Number(z).toFixed(2)}`)),
    "G2 X32 Y30 I-2",
    "G0 Z5",
    ...wholeLines.slice(outlineFrom),
  ].join("\n");
}

const checkOf = (input: ProofInput, code: string): ProofCheck | undefined =>
  prove(input).value.checks.find((c) => c.code === code);

describe("every check", () => {
  test("passes on the job as it is, and lists its worst value and limit", () => {
    const { value, findings } = prove(inputOf(whole));
    expect(findings).toEqual([]);
    expect(value.proven).toBe(true);
    const listed = value.checks.map((c) => c.code);
    expect(listed).toEqual([...new Set(listed)]);
    expect(new Set([...listed, "sheet-not-cut"])).toEqual(new Set(Object.keys(sayProof)));
  });

  test.each(Object.entries(WAYS))("%s can fail, and says so", (code, way) => {
    const input = way();
    const { value, findings } = prove(input);
    expect(checkOf(input, code)?.passed).toBe(false);
    expect(value.proven).toBe(false);
    const finding = findings.find((f) => f.code === code);
    expect(finding?.severity).toBe("stop");
    expect(finding?.message.length).toBeGreaterThan(20);
  });

  const PLACED = [
    "overcut",
    "left-standing",
    "tab-width",
    "tab-height",
    "tab-length",
    "rapid-in-stock",
    "inner-after-outline",
    "entry-angle",
    "depth-of-cut",
    "chip-too-thick",
    "chip-too-thin",
    "through-depth",
  ] as const;

  test.each(PLACED)("%s names the place, the program's line and the drawing's entity", (code) => {
    const check = checkOf(WAYS[code](), code);
    expect(check?.at).toHaveLength(2);
    expect(check?.program?.file).toBe("a.nc");
    expect(check?.program?.line).toBeGreaterThan(8);
    expect(check?.drawing?.file).toBe("plate.dxf");
    expect(check?.plate).toBe("plate");
  });
});

describe("values that can be worked out by hand", () => {
  const worstOf = (input: ProofInput, code: string): number =>
    checkOf(input, code)?.worst ?? Number.NaN;

  test("overcut is what the coordinate was shifted by", () => {
    for (const by of [0.011, 0.02, 0.3]) {
      const text = edited(FINE, `G1 X${(9 + by).toFixed(3)} Y50 Z-2.2`);
      expect(worstOf(inputOf(text), "overcut")).toBeCloseTo(by, 3);
    }
  });

  test("through depth, tabs, travel", () => {
    const input = inputOf(whole);
    expect(worstOf(input, "through-depth")).toBeCloseTo(0.2, 9);
    expect(worstOf(input, "tab-height")).toBeCloseTo(0.6, 9);
    expect(worstOf(input, "tab-width")).toBeCloseTo(4, 3);
    expect(worstOf(input, "travel-z")).toBeCloseTo(7.2, 9);
  });

  test("a ramp may be steeper by what its heights are rounded to over the shortest chord of one", () => {
    const steepest = worstOf(inputOf(whole), "entry-angle");
    for (const [decimals, less] of [
      [3, 1.2],
      [4, 0.12],
      [5, 0.012],
    ] as const) {
      const passes = (degrees: number): boolean | undefined => {
        const rampAngle = ((steepest - degrees) * Math.PI) / 180;
        const change = { limits: { ...limits, rampAngle }, machine: { ...machine, decimals } };
        return checkOf(inputOf(whole, change), "entry-angle")?.passed;
      };
      expect(passes(less)).toBe(true);
      expect(passes(1.3 * less)).toBe(false);
    }
  });

  test("Z may be asked for more by a digit of its heights", () => {
    const with5 = worstOf(machined({ decimals: 5 }), "rate-z");
    const maxFeed = [3000, 3000, with5 * 0.9999 - 0.5] as const;
    const passes = (decimals: number): boolean | undefined =>
      checkOf(machined({ decimals, maxFeed }), "rate-z")?.passed;
    expect([3, 4, 5].map(passes)).toEqual([true, true, false]);
  });

  test("a square window keeps (1 − π/4) R² in each corner, and (√2 − 1) R far", () => {
    const side = 0.8;
    const [x, y] = [HOLE.x, HOLE.y];
    const square = [
      `G1 X${x - side} Y${y - side}`,
      `G1 X${x + side} Y${y - side}`,
      `G1 X${x + side} Y${y + side}`,
      `G1 X${x - side} Y${y + side}`,
      `G1 X${x - side} Y${y - side}`,
      HOLE_LAST.replace("G2", "G1").replace(/ I.*/, ""),
    ];
    const text = edited(HOLE_LAST, square.join("\n"));
    const { value } = prove(inputOf(text, { sheets: [{ ...sheet, plates: [squareHole] }] }));
    expect(value.cornerMm2).toBeCloseTo(4 * (1 - Math.PI / 4), 3);
    expect(value.cornerMm).toBeCloseTo(Math.SQRT2 - 1, 4);
    expect(value.leftMm2).toBe(0);
  });

  test("what a forgotten round leaves has the area of its ring", () => {
    const { value } = prove(inputOf(edited(HOLE_LAST, "(nothing)").replace("G1 X30.8\n", "")));
    expect(value.leftMm2).toBeCloseTo(Math.PI * (1.8 ** 2 - 1.7 ** 2), 2);
  });

  test("on an arc the chip counts at the wall that still has stock", () => {
    // The last turn of the hole: feed × (0.8 + 1) / 0.8 at the wall.
    const text = edited(HOLE_LAST, `${HOLE_LAST} F600`);
    const faster = inputOf(text);
    const worst = checkOf(faster, "chip-too-thick");
    expect(worst?.worst).toBeCloseTo(((600 / 18000) * 1.8) / 0.8, 3);
    expect(worst?.program?.line).toBe(wholeLines.indexOf(HOLE_LAST) + 1);
    // Once more round the same way meets nothing, whatever the feed.
    const again = edited(HOLE_LAST, `${HOLE_LAST}\n${HOLE_LAST} F2900`);
    expect(checkOf(inputOf(again), "chip-too-thick")?.passed).toBe(true);
  });
});
