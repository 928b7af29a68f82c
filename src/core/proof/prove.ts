/**
 * The proof: what the programs take away, from their Traces alone, against what the plates want.
 *
 * Sheet by sheet, all programs of a sheet in the order in which they are run. Every check is listed
 * with its worst value, its limit and the place, whether it passed or not; a failed one is a finding of
 * severity `stop` besides.
 *
 * Exactness. A move takes away every point within the cutter's radius of its way, from the tip up. In
 * Z this is exact: ramps and helices count from the point where they cross a depth on. In X and Y
 * overcut, left-overs, tabs and corners are computed with lines and arcs in closed form, right to
 * rounding (1e-9 mm) once an arc's two radii agree (the reader's mean radius misses an end by at most
 * half of their difference, 0.001 mm). What hangs together is seen on rows PITCH apart (join.ts), and
 * engagement at points a sixteenth of the cutter apart (field.ts); both say what that can miss.
 *
 * Shares no code, table or type with toolpath or program/write, nor geometry's offset.
 */

import type { Finding, Outcome } from "../finding/finding.ts";
import { isProofCode, reportProof } from "../finding/say-proof.ts";
import { type ContourChecks, checkContours, TAB_ROOM } from "./checks/contours.ts";
import type { CuttingChecks } from "./checks/cutting.ts";
import { checkJoin, type JoinChecks } from "./checks/join.ts";
import { checkProfile } from "./checks/profile.ts";
import { checkOf, mostOf, offer, type Worst } from "./checks/worst.ts";
import { boxOf, checkMoves, checkStock, type Moves, type MovesChecks, movesOf } from "./moves.ts";
import type { Proof, ProofCheck, ProofInput, SheetInput, TargetSheet } from "./proof.ts";
import { type Curve, distanceToPoint } from "./removal/curve.ts";
import { newLevels } from "./removal/level.ts";
import type { Stroke } from "./removal/stroke.ts";
import { nearestWall, type Target } from "./target.ts";

/** What is known of one sheet. */
export interface SheetProof {
  readonly worsts: readonly Worst[];
  readonly overcut: number;
  readonly contours: ContourChecks | undefined;
}

/** A sheet with the checks made on the text and on what is left at the end; those on its moves are still missing. */
export interface BegunProof extends Moves {
  /** On how the programs are written. */
  readonly text: readonly Worst[];
  /** Absent where nothing moves. */
  readonly end: EndChecks | undefined;
}

interface EndChecks {
  readonly contours: ContourChecks;
  readonly join: JoinChecks;
}

export function prove(input: ProofInput): Outcome<Proof> {
  return joinProofs(
    input,
    input.sheets.map((sheet) => finishSheet(beginSheet(input, sheet))),
  );
}

/** The verdict on all sheets, in the order of the input's. */
export function joinProofs(input: ProofInput, results: readonly SheetProof[]): Outcome<Proof> {
  const strays = input.programs.filter((p) => !input.sheets.some((s) => s.name === p.sheet));
  const worsts = results.flatMap((r) => r.worsts);
  for (const stray of strays) {
    const worst = mostOf("sheet-not-cut", "programs", 0);
    offer(worst, 1, () => ({ sheet: stray.sheet, program: { file: stray.file, line: 1 } }));
    worsts.push(worst);
  }
  const checks = gather(worsts);
  const sum = (of: (c: ContourChecks) => number): number =>
    results.reduce((total, r) => total + (r.contours === undefined ? 0 : of(r.contours)), 0);
  const proof: Proof = {
    proven: input.sheets.length > 0 && checks.every((c) => c.passed),
    checks,
    overcutMm: Math.max(0, ...results.map((r) => r.overcut)),
    leftMm2: sum((c) => c.leftMm2),
    cornerMm2: sum((c) => c.cornerMm2),
    cornerMm: Math.max(0, ...results.map((r) => r.contours?.cornerMm ?? 0)),
  };
  return { value: proof, findings: checks.filter((c) => !c.passed).map(findingOf) };
}

export function beginSheet(whole: ProofInput, sheet: TargetSheet): BegunProof {
  const { machine, limits, programs } = whole;
  const moves = movesOf({ machine, limits, programs, sheet });
  const { target, strokes } = moves;
  const text = programs
    .filter((program) => program.sheet === sheet.name)
    .flatMap((program) => checkProfile(whole, program, sheet.programZero.z));
  if (strokes.length === 0) return { ...moves, text, end: undefined };
  const levels = newLevels(strokes);
  const contours = checkContours(moves.input, target, levels);
  const tallest = sheet.tabs.reduce((h, t) => Math.max(h, t.height), 0);
  const above = tallest > 0 ? -sheet.thickness + tallest + TAB_ROOM : -sheet.thickness;
  return {
    ...moves,
    text,
    end: { contours, join: checkJoin(target, levels, above, boxOf(sheet)) },
  };
}

/** Checks on the moves that were made elsewhere; what is absent is made here. */
export interface DoneChecks {
  readonly moves?: MovesChecks | undefined;
  readonly stock?: CuttingChecks | undefined;
}

export function finishSheet(begun: BegunProof, done: DoneChecks = {}): SheetProof {
  const { input, target, strokes, end } = begun;
  const { motion, overcut, order, lowRapid } = done.moves ?? checkMoves(begun);
  const worsts = [...begun.text, ...motion];
  if (end === undefined) {
    if (input.sheet.plates.length > 0) {
      const worst = mostOf("sheet-not-cut", "programs", 0);
      offer(worst, 1, () => ({ sheet: input.sheet.name }));
      worsts.push(worst);
    }
    return { worsts, overcut: 0, contours: undefined };
  }
  const { contours, join } = end;
  const { left, corner, tabWidth, tabHeight, tabLength } = contours;
  const { rapid, entry, depth, chipMost, chipLeast } = done.stock ?? checkStock(input, strokes);
  worsts.push(overcut, left, corner, tabWidth, tabHeight, tabLength);
  worsts.push(join.free, join.held, join.loose, order, lowRapid);
  worsts.push(rapid, entry, depth, chipMost, chipLeast);
  const cuts = lastCuts(strokes);
  for (const worst of worsts) placed(input, target, cuts, worst);
  return { worsts, overcut: overcut.value, contours };
}

/** A wall this near to a place is the one that it is about, mm. */
const NEAR = 10;

/** A place that a check names lies at an entity of a drawing, and a line of a program passes it. */
function placed(input: SheetInput, target: Target, cuts: readonly Stroke[], worst: Worst): void {
  const { spot } = worst;
  if (spot?.at === undefined) return;
  const [x, y] = spot.at;
  const wall = spot.drawing === undefined ? nearestWall(target, x, y, NEAR) : undefined;
  const stroke = spot.program === undefined ? nearestCut(cuts, x, y) : undefined;
  worst.spot = {
    ...spot,
    plate: spot.plate ?? wall?.ring.plate.plate,
    drawing: spot.drawing ?? wall?.origin,
    program:
      spot.program ??
      (stroke && { file: input.programs[stroke.program]?.file ?? "", line: stroke.line }),
  };
}

/** Of the strokes that cut, the last one on each way, last first. */
function lastCuts(strokes: readonly Stroke[]): Stroke[] {
  const seen = new Set<Curve>();
  const cuts: Stroke[] = [];
  for (let i = strokes.length - 1; i >= 0; i--) {
    const s = strokes[i] as Stroke;
    if ((s.z0 >= 0 && s.z1 >= 0) || seen.has(s.curve)) continue;
    seen.add(s.curve);
    cuts.push(s);
  }
  return cuts;
}

/** Of passes on one way, and of ways equally near, the last one is the one to look at. */
function nearestCut(cuts: readonly Stroke[], x: number, y: number): Stroke | undefined {
  let best: Stroke | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const s of cuts) {
    const d = distanceToPoint(s.curve, x, y);
    if (d >= least) continue;
    least = d;
    best = s;
  }
  return best;
}

/** One line for each check: over sheets and programs, the one that came nearest to its limit. */
function gather(worsts: readonly Worst[]): ProofCheck[] {
  const nearest = new Map<string, Worst>();
  for (const w of worsts) {
    const other = nearest.get(w.code);
    if (other === undefined || w.excess > other.excess) nearest.set(w.code, w);
  }
  return [...nearest.values()].map(checkOf);
}

function findingOf(check: ProofCheck): Finding {
  const { code, worst, limit, unit, at, sheet, plate, program, drawing } = check;
  const data = { worst, limit, unit };
  // Places are in the sheet frame, so the plate is named in the data and not as the place's frame.
  const place = { sheet, at, program, drawing };
  const named = plate === undefined ? data : { ...data, plate };
  return reportProof(isProofCode(code) ? code : "program-errors", named, place);
}
