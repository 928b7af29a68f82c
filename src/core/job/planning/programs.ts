/** Programs as written, read back and timed: from here on nothing is believed but their text. */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import { joinBoxes } from "../../geometry/contour.ts";
import type { Box, Point } from "../../geometry/shape.ts";
import { feedWay } from "../../motion/routed.ts";
import { type TraceTime, timeOf } from "../../motion/time.ts";
import type { Part } from "../../motion/wear/split.ts";
import { dialectOf } from "../../program/read/dialect.ts";
import { readProgram } from "../../program/read/read.ts";
import { rereadProgram } from "../../program/read/reread.ts";
import type { Trace } from "../../program/read/trace.ts";
import {
  type Prepared,
  prepareProgram,
  type WriteContext,
  type Written,
} from "../../program/write/write.ts";
import { type CutProgram, platesOf } from "../../toolpath/cut.ts";
import { fileSlug, type Job } from "../job.ts";
import type { ProgramJson } from "../plan-json.ts";
import { keyOf, type PlanMemory } from "../work/memory.ts";
import type { ReckonedProgram } from "./account/reckon.ts";
import { programZero } from "./describe.ts";

/** One program, written, read back and timed. */
export interface Made {
  readonly file: string;
  readonly program: CutProgram;
  readonly written: Written;
  readonly trace: Trace;
  readonly time: TraceTime;
  /** Metres at feed, before anything is rounded. */
  readonly cutMetres: number;
  readonly part: Part;
}

/** A program read back before the job's others are there: its text lacks what is known late. */
export interface Draft extends Pick<Made, "file" | "program" | "trace" | "part"> {
  readonly prepared: Prepared;
  readonly text: string;
}

export interface Making {
  /** The next programs, in the order in which they are run. */
  readonly add: (parts: readonly Part[]) => readonly Draft[];
  /** All of them, once there are no more. */
  readonly finish: () => readonly Made[];
}

export function beginPrograms(job: Job, memory: PlanMemory): Making {
  const drafts: Draft[] = [];
  const add = (part: Part): Draft => {
    const change = changeBefore(drafts.at(-1)?.part, part);
    const number = drafts.length + 1;
    const context = { ...contextFor(job, part.program), number, change };
    const { blocks, ...program } = part.program;
    const key = (): string => keyOf(blocks.map(memory.id), { ...part, program }, context);
    const draft = memory.recall("programs", key, () => draftProgram(part, context, memory));
    drafts.push(draft);
    return draft;
  };
  return {
    add: (parts) => parts.map(add),
    finish: () => drafts.map((draft) => finishProgram(draft, drafts.length, job, memory)),
  };
}

function changeBefore(last: Part | undefined, part: Part): WriteContext["change"] {
  if (last?.program.sheet.name !== part.program.sheet.name) return "sheet";
  if (last.program.cutter.name !== part.program.cutter.name) return "cutter";
  return part.newCutter ? "worn" : "sheet";
}

/** With a number in the place of each that is not known: the last text is then as long, and hardly read again. */
function draftProgram(part: Part, context: WriteContext, memory: PlanMemory): Draft {
  const { program } = part;
  const { machine } = context;
  const number = String(context.number).padStart(2, "0");
  const mark = program.trial === undefined ? "" : "trial-";
  const file = `${mark}${number}-${fileSlug(program.sheet.name)}-${fileSlug(program.cutter.name)}.nc`;
  const prepared = prepareProgram(program, context);
  const text = prepared.text({ minutes: 0, of: context.number });
  // Equal texts get the same trace, by which a proof knows that there is nothing new to prove.
  const trace = memory.recall(
    "traces",
    () => keyOf(file, text, machine),
    () => readProgram(file, text, dialectOf(machine)),
  );
  return { file, program, prepared, text, trace, part };
}

function finishProgram(
  { file, program, prepared, text: before, trace: read, part }: Draft,
  of: number,
  { machine }: Job,
  { recall, id }: PlanMemory,
): Made {
  const time = recall(
    "times",
    () => keyOf(id(read), machine),
    () => timeOf(read, machine),
  );
  const late = { minutes: time.seconds / 60, of };
  const text = prepared.text(late);
  const trace = recall(
    "last traces",
    () => keyOf(id(read), late),
    () => rereadProgram({ text: before, trace: read }, text, dialectOf(machine)),
  );
  const written = { ...prepared, text, blockLines: prepared.blockLines(late) };
  return { file, program, written, trace, time, cutMetres: feedWay(program) / 1000, part };
}

export function contextFor(
  job: Job,
  { sheet }: Pick<CutProgram, "sheet">,
): Omit<WriteContext, "number"> {
  return {
    job: job.name,
    machine: job.machine,
    options: job.cutting,
    originAt: job.origin.at === "centre" ? "centre" : `${job.origin.at.replace("-", " ")} corner`,
    zAt: job.origin.z,
    zero: programZero(sheet, job.origin),
  };
}

export function programJson(
  { file, program, written, time, cutMetres }: Made,
  reckoned: ReckonedProgram | undefined,
): ProgramJson {
  const { rates } = program;
  return {
    file,
    sheet: program.sheet.name,
    cutter: program.cutter.name,
    blocks: written.blocks,
    seconds: time.seconds,
    cutMetres,
    rapidMetres: time.rapidMetres,
    rpm: Math.round(rates.rpm),
    feed: Math.round(rates.feed),
    passDepth: rates.passDepth,
    plungeFeed: rates.plungeFeed,
    rampFeed: rates.rampFeed,
    finishFeed: rates.finishFeed,
    deepest: written.deepest,
    plates: platesOf(program.blocks),
    ...reckoned,
    rateSteps: rates.steps,
    limitedBy: rates.limitedBy,
  };
}

/** Box of all that the cutters of one sheet touch, sheet frame. */
export function cutBox(made: readonly Made[], zero: Point): Box | undefined {
  let box: Box | undefined;
  for (const { program, written } of made) {
    if (written.box === undefined) continue;
    const r = effectiveDiameter(program.cutter) / 2;
    const { min, max } = written.box;
    const own = {
      min: { x: min.x + zero.x - r, y: min.y + zero.y - r },
      max: { x: max.x + zero.x + r, y: max.y + zero.y + r },
    };
    box = joinBoxes(own, box);
  }
  return box;
}
