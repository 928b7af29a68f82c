/**
 * A job that outlasts its cutters: programs split at plate ends, with a new cutter before each further part.
 *
 * Words: a life is what one cutter of a name lasts; `used` is the share of it that the cutter in the collet
 * has behind it. A cutter that goes on to the next sheet keeps what it has used.
 *
 * Promise: every plate block once, in the order of the programs; no cutter beyond its life but for a plate that
 * needs more than a whole one, which gets a new cutter of its own and a finding. Programs that need no
 * change come back as they are.
 */
import type { Cutter } from "../../cutting/cutter.ts";
import { lifeWeight } from "../../cutting/data/life.ts";
import { type Finding, type Report, reporter } from "../../finding/finding.ts";
import { sayMotion } from "../../finding/say-motion.ts";
import { thicknessOf } from "../../layout/layout.ts";
import type { CutProgram } from "../../toolpath/cut.ts";
import { type Shift, type Stretch, splitByLife } from "./shifts.ts";

const report: Report<typeof sayMotion> = reporter(sayMotion);

export interface SplitInput {
  /** Metres of edge that a cutter of this name lasts, as of sheets of 2–3 mm. */
  readonly lifeMetres: (cutter: Cutter) => number;
  /** Share of its life that the cutter in use has behind it; 0 for a new one. */
  readonly used: (cutter: Cutter) => number;
  /** Metres of plate edge that each block of a program cuts (`blockEdges`). */
  readonly edges: (program: CutProgram) => readonly number[];
}

/** A program that one cutter cuts from end to end. */
export interface Part {
  readonly program: CutProgram;
  /** A new cutter of the same name is put in before it, since the one in use would wear out. */
  readonly newCutter: boolean;
  /** Shares of the cutter's life, before and after. */
  readonly lifeBefore: number;
  readonly lifeAfter: number;
}

/** Programs come in the order in which they are run, a sheet's or a whole job's at a time. */
export interface Splitter {
  readonly split: (programs: readonly CutProgram[]) => readonly Part[];
  /** On all that were split. */
  readonly findings: () => readonly Finding[];
}

export function splitter(input: SplitInput): Splitter {
  const parts: Part[] = [];
  const findings: Finding[] = [];
  const used = new Map<string, number>();
  const told = new Set<string>();
  const next = (program: CutProgram): readonly Part[] => {
    const { cutter } = program;
    const life = input.lifeMetres(cutter);
    const stretches = stretchesOf(program, input.edges(program));
    const before = used.get(cutter.name) ?? input.used(cutter);
    const made = partsOf(program, splitByLife(stretches, life, before), before);
    parts.push(...made);
    used.set(cutter.name, made.at(-1)?.lifeAfter ?? before);
    for (const f of tooLong(cutter.name, stretches, life)) {
      if (!told.has(f.message)) findings.push(f);
      told.add(f.message);
    }
    return made;
  };
  return {
    split: (programs) => programs.flatMap(next),
    findings: () => [...changes(parts), ...findings],
  };
}

/** Metres in the measure of life figures. */
function stretchesOf(program: CutProgram, edges: readonly number[]): readonly Stretch[] {
  const weight = lifeWeight(thicknessOf(program.sheet));
  return program.blocks.map(({ plate, copy }, i) => ({
    name: plate,
    copy,
    wearMetres: (edges[i] ?? 0) * weight,
  }));
}

/** An empty first shift means that the cutter is changed before the program begins. */
function partsOf(program: CutProgram, shifts: readonly Shift[], before: number): Part[] {
  let gone = before;
  let fresh = false;
  const parts: Part[] = [];
  shifts.forEach((shift, i) => {
    if (i > 0) {
      fresh = true;
      gone = 0;
    }
    if (shift.to === shift.from && program.blocks.length > 0) return;
    const whole = shift.from === 0 && shift.to === program.blocks.length;
    const blocks = program.blocks.slice(shift.from, shift.to);
    parts.push({
      program: whole ? program : { ...program, blocks },
      newCutter: fresh,
      lifeBefore: gone,
      lifeAfter: shift.lifeUsed,
    });
  });
  return parts;
}

function changes(parts: readonly Part[]): Finding[] {
  const names = [...new Set(parts.filter((p) => p.newCutter).map((p) => p.program.cutter.name))];
  return names.map((cutter) => {
    const own = parts.filter((p) => p.program.cutter.name === cutter);
    const share = own.reduce((sum, p) => sum + p.lifeAfter - p.lifeBefore, 0);
    const changed = own.filter((p) => p.newCutter);
    const before = changed
      .map(({ program }) => {
        const first = program.blocks[0];
        return `${first?.plate ?? "?"} ${first?.copy ?? ""} on ${program.sheet.name}`;
      })
      .join(", ");
    const data = { cutter, share: hundredths(share), changes: changed.length, before };
    return report("cutter-outlasted", data);
  });
}

function tooLong(cutter: string, stretches: readonly Stretch[], life: number): Finding[] {
  return stretches.flatMap(({ name, wearMetres }) => {
    const share = wearMetres / life;
    if (share <= 1) return [];
    const data = { plate: name, cutter, share: hundredths(share) };
    return [report("plate-outlasts-cutter", data, { plate: name })];
  });
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
