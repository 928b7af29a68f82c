/**
 * Changes of a job that spoil something, seeded: for most of them the oracle says whether they do, the
 * others are spoilt by what they are.
 */
import type { Random } from "../../../src/core/geometry/seeded.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import type { TraceMove } from "../../../src/core/program/read/trace.ts";
import type { ProofInput } from "../../../src/core/proof/proof.ts";
import { type Oracle, placesOf } from "./oracle.ts";

export interface Change {
  readonly what: string;
  readonly input: ProofInput;
}

export interface Bench {
  readonly input: ProofInput;
  readonly texts: readonly string[];
  readonly oracle: Oracle;
  readonly random: Random;
}

const pick = <T>(list: readonly T[], random: Random): T | undefined =>
  list[Math.floor(random() * list.length)];

function withText(bench: Bench, index: number, text: string): ProofInput {
  const programs = bench.input.programs.map((p, i) =>
    i === index ? { ...p, trace: readProgram(p.file, text) } : p,
  );
  return { ...bench.input, programs };
}

const isInch = (text: string): boolean => /^(N\d+ )?[^(]*G20/im.test(text);

/** Edits a random line that fits; the oracle, or the reader's refusal, says whether it harms. */
function judged(
  bench: Bench,
  name: string,
  fits: (line: string) => boolean,
  edit: (lines: string[], at: number, inch: boolean) => string | undefined,
): Change | undefined {
  const { texts, input, oracle, random } = bench;
  const index = Math.floor(random() * texts.length);
  const text = texts[index] as string;
  const lines = text.split("\n");
  const numbers = lines.map((_, i) => i).filter((i) => fits(lines[i] as string));
  const at = pick(numbers, random);
  if (at === undefined) return undefined;
  const old = lines[at] as string;
  const made = edit(lines, at, isInch(text));
  if (made === undefined) return undefined;
  const changed = withText(bench, index, lines.join("\n"));
  const trace = changed.programs[index]?.trace;
  if (trace === undefined) return undefined;
  const refused = trace.findings.some((f) => f.severity === "stop");
  const harm = refused ? "refused by the standard" : oracle.harm(index, trace);
  if (harm === undefined) return undefined;
  const file = input.programs[index]?.file;
  return { what: `${name}: ${file}:${at + 1} ${old} → ${made} (${harm})`, input: changed };
}

const isWords = (line: string): boolean => /^[^(%]*\d/.test(line) && line.trim() !== "";
const moves = (line: string): boolean => isWords(line) && /[XYZ]/i.test(line);
const decimal = (v: number): string => String(Number(v.toFixed(5)));

function dropLine(bench: Bench): Change | undefined {
  return judged(bench, "drop a line", moves, (lines, at) => {
    lines.splice(at, 1);
    return "gone";
  });
}

function swapLines(bench: Bench): Change | undefined {
  return judged(bench, "swap two lines", moves, (lines, at) => {
    const next = lines[at + 1] as string;
    if (next === undefined || !moves(next)) return undefined;
    lines[at + 1] = lines[at] as string;
    lines[at] = next;
    return `with ${next}`;
  });
}

function shift(letters: RegExp, by: readonly number[], name: string) {
  return (bench: Bench): Change | undefined =>
    judged(
      bench,
      name,
      (line) => isWords(line) && letters.test(line),
      (lines, at, inch) => {
        const line = lines[at] as string;
        const d = (pick(by, bench.random) as number) * (bench.random() < 0.5 ? -1 : 1);
        lines[at] = line.replace(letters, (_, letter: string, value: string) => {
          return `${letter}${decimal(Number(value) + (inch ? d / 25.4 : d))}`;
        });
        return lines[at];
      },
    );
}

const shiftX = shift(/(X)(-?[\d.]+)/i, [0.02], "shift X by 0.02 mm");
const shiftY = shift(/(Y)(-?[\d.]+)/i, [0.02], "shift Y by 0.02 mm");
const changeZ = shift(/(Z)(-?[\d.]+)/i, [0.3, 0.5, 1], "change Z");

function turnArc(bench: Bench): Change | undefined {
  return judged(
    bench,
    "turn an arc the other way",
    (line) => isWords(line) && /G0?[23](?!\d)/i.test(line),
    (lines, at) => {
      const line = lines[at] as string;
      lines[at] = line.replace(/(G0?)([23])(?!\d)/i, (_, g: string, n: string) => {
        return `${g}${n === "2" ? 3 : 2}`;
      });
      return lines[at];
    },
  );
}

/** A change of a line that is harmful by what the line is for. */
function ofLine(name: string, pattern: RegExp, to: readonly string[]) {
  return (bench: Bench): Change | undefined => {
    const { texts, random, input } = bench;
    const index = Math.floor(random() * texts.length);
    const lines = (texts[index] as string).split("\n");
    const at = lines.findIndex((line) => isWords(line) && pattern.test(line));
    if (at < 0) return undefined;
    const old = lines[at] as string;
    const word = pick(to, random) as string;
    const made = old.replace(pattern, word);
    if (made.trim() === "") lines.splice(at, 1);
    else lines[at] = made;
    const what = `${name}: ${input.programs[index]?.file}:${at + 1} ${old} → ${made || "gone"}`;
    return { what, input: withText(bench, index, lines.join("\n")) };
  };
}

const changeS = ofLine("change S", /S\d+/i, ["S900", "S4000", "S60000", "S0"]);
const dropDwell = ofLine("delete the dwell", /^.*G0?4 .*$/i, [""]);
const shortDwell = ofLine("shorten the dwell", /P[\d.]+/i, ["P.4", "P2"]);
const dropState = ofLine("drop a state", /G(2[01]|90|17|94)(?!\d)/i, [""]);
const dropStart = ofLine("drop the spindle's start", /M0?3/i, [""]);
const reverse = ofLine("reverse the spindle", /M0?3/i, ["M4"]);
const dropEnd = ofLine("drop the end", /^.*M(30|0?2|0?5)\s*$/i, [""]);

/** Wherever the cutter passes a tab's foot high enough, it passes as low as it gets. */
function dropTab(bench: Bench): Change | undefined {
  const { input, random } = bench;
  const sheet = input.sheets[0];
  const tab = sheet && pick(sheet.tabs, random);
  if (sheet === undefined || tab === undefined) return undefined;
  const top = -sheet.thickness + tab.height;
  const low = -sheet.thickness - input.limits.throughDepth;
  const foot = (m: TraceMove, radius: number): boolean =>
    placesOf(m, sheet.programZero).some(
      (p) =>
        Math.abs(p.z - top) < 0.01 &&
        Math.hypot(p.x - tab.at.x, p.y - tab.at.y) < radius + tab.width / 2 + 0.1,
    );
  let found = 0;
  const programs = input.programs.map((program) => {
    const radius = program.cutter.effectiveDiameter / 2;
    const lower = (z: number): number =>
      Math.abs(z + sheet.programZero.z - top) < 0.01 ? low - sheet.programZero.z : z;
    const steps = program.trace.steps.map((step) => {
      if (step.kind !== "feed" || !foot(step, radius)) return step;
      found++;
      return { ...step, z0: lower(step.z0), z1: lower(step.z1) };
    });
    return { ...program, trace: { ...program.trace, steps } };
  });
  if (found === 0) return undefined;
  const where = `${tab.at.x.toFixed(1)}, ${tab.at.y.toFixed(1)}`;
  return { what: `delete the tab at ${where}`, input: { ...input, programs } };
}

function wrongCutter(bench: Bench): Change | undefined {
  const by = pick([-0.4, -0.1, -0.05, 0.05, 0.1, 0.5], bench.random) as number;
  const index = Math.floor(bench.random() * bench.input.programs.length);
  const programs = bench.input.programs.map((p, i) => {
    const effectiveDiameter = p.cutter.effectiveDiameter + by;
    return i === index ? { ...p, cutter: { ...p.cutter, effectiveDiameter } } : p;
  });
  return {
    what: `wrong cutter: program ${index + 1}, ${by} mm`,
    input: { ...bench.input, programs },
  };
}

function wrongThickness(bench: Bench): Change | undefined {
  const by = pick([-0.5, -0.2, -0.1, 0.3, 0.5, 1], bench.random) as number;
  const sheets = bench.input.sheets.map((s) => ({ ...s, thickness: s.thickness + by }));
  return { what: `wrong thickness: ${by} mm`, input: { ...bench.input, sheets } };
}

/** A plate's outline before what lies inside it: whole cuts, as their comments part them. */
function outlineFirst(bench: Bench): Change | undefined {
  const { texts, random, input } = bench;
  const index = Math.floor(random() * texts.length);
  const lines = (texts[index] as string).split("\n");
  const outlines = lines
    .map((_, i) => i)
    .filter((i) => /^\((outline|the edge)/.test(lines[i] as string));
  const outline = pick(outlines, random);
  if (outline === undefined) return undefined;
  const end = lines.findIndex((l, i) => i > outline && /^(\(plate |M0?5|g90 g0 z.5)/i.test(l));
  const inner = lines
    .map((_, i) => i)
    .filter((i) => i < outline && /^\((hole|slot|window|the quarter)/.test(lines[i] as string));
  const plates = lines
    .map((_, i) => i)
    .filter((i) => i < outline && /^\(plate /.test(lines[i] as string));
  const from = inner.filter((i) => i > (plates[plates.length - 1] ?? 0));
  const at = pick(from, random);
  if (at === undefined || end < 0) return undefined;
  const block = lines.splice(outline, end - outline);
  lines.splice(at, 0, ...block);
  const what = `outline before an inner cut: ${input.programs[index]?.file}:${outline + 1} to line ${at + 1}`;
  return { what, input: withText(bench, index, lines.join("\n")) };
}

export const KINDS: readonly ((bench: Bench) => Change | undefined)[] = [
  dropLine,
  swapLines,
  shiftX,
  shiftY,
  changeZ,
  turnArc,
  changeS,
  dropDwell,
  shortDwell,
  dropState,
  dropStart,
  reverse,
  dropEnd,
  dropTab,
  wrongCutter,
  wrongThickness,
  outlineFirst,
];

/** A harmful change of the kind, or nothing after some tries: not every job has what a kind changes. */
export function harmful(bench: Bench, kind: number): Change | undefined {
  const make = KINDS[kind % KINDS.length] as (typeof KINDS)[number];
  for (let i = 0; i < 12; i++) {
    const change = make(bench);
    if (change !== undefined) return change;
  }
  return undefined;
}
