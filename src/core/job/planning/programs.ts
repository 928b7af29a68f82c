/** Programs as written, read back and timed: from here on nothing is believed but their text. */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import { bounds, boundsOf } from "../../geometry/contour.ts";
import { distance, line } from "../../geometry/segment.ts";
import type { Box, Segment } from "../../geometry/shape.ts";
import { feedWay } from "../../motion/routed.ts";
import { type TraceTime, timeOf } from "../../motion/time.ts";
import type { Part } from "../../motion/wear/split.ts";
import { dialectOf } from "../../program/read/dialect.ts";
import { readProgram } from "../../program/read/read.ts";
import { rereadProgram } from "../../program/read/reread.ts";
import type { Trace } from "../../program/read/trace.ts";
import { prepareProgram, type WriteContext, type Written } from "../../program/write/write.ts";
import { type Cut, type CutProgram, platesOf } from "../../toolpath/cut.ts";
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

/** `sheetMade` hears of all programs of a sheet as soon as the last of them is made. */
export function makePrograms(
  job: Job,
  parts: readonly Part[],
  memory: PlanMemory,
  sheetMade: (made: readonly Made[]) => void,
): Made[] {
  const all: Made[] = [];
  parts.forEach((part, i) => {
    const change = changeBefore(parts[i - 1], part);
    const context = { ...contextFor(job, part.program, i + 1, parts.length), change };
    const { blocks, ...program } = part.program;
    const key = (): string => keyOf(blocks.map(memory.id), { ...part, program }, context);
    all.push(memory.recall("programs", key, () => makeProgram(part, context, memory)));
    const onSheet = ({ program }: { readonly program: CutProgram }): boolean =>
      program.sheet.name === part.program.sheet.name;
    if (!parts.slice(i + 1).some(onSheet)) sheetMade(all.filter(onSheet));
  });
  return all;
}

function changeBefore(last: Part | undefined, part: Part): WriteContext["change"] {
  if (last?.program.sheet.name !== part.program.sheet.name) return "sheet";
  if (last.program.cutter.name !== part.program.cutter.name) return "cutter";
  return part.newCutter ? "worn" : "sheet";
}

/** The minutes in the head are known once the program has been read and timed; what is kept was read with them. */
function makeProgram(part: Part, context: WriteContext, memory: PlanMemory): Made {
  const { program } = part;
  const { machine } = context;
  const dialect = dialectOf(machine);
  const number = String(context.number).padStart(2, "0");
  const mark = program.trial === undefined ? "" : "trial-";
  const file = `${mark}${number}-${fileSlug(program.sheet.name)}-${fileSlug(program.cutter.name)}.nc`;
  const draft = prepareProgram(program, context);
  const timeless = draft.text(0);
  // Equal texts get the same trace, by which a proof knows that there is nothing new to prove.
  const { text, trace, time } = memory.recall(
    "traces",
    () => keyOf(file, timeless, machine),
    () => {
      const read = readProgram(file, timeless, dialect);
      const timed = timeOf(read, machine);
      const whole = draft.text(timed.seconds / 60);
      const before = { text: timeless, trace: read };
      return { text: whole, trace: rereadProgram(before, whole, dialect), time: timed };
    },
  );
  const written = { ...draft, text, blockLines: draft.blockLines(time.seconds / 60) };
  return { file, program, written, trace, time, cutMetres: feedWay(program) / 1000, part };
}

export function contextFor(
  job: Job,
  { sheet }: CutProgram,
  number: number,
  of: number,
): WriteContext {
  return {
    job: job.name,
    machine: job.machine,
    options: job.cutting,
    originAt: job.origin.at === "centre" ? "centre" : `${job.origin.at.replace("-", " ")} corner`,
    zAt: job.origin.z,
    zero: programZero(sheet, job.origin),
    number,
    of,
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
export function cutBox({ sheet }: CutProgram, made: readonly Made[]): Box | undefined {
  let { min: max, max: min } = bounds(sheet.outline);
  let empty = true;
  for (const { program } of made) {
    const r = effectiveDiameter(program.cutter) / 2;
    for (const cut of program.blocks.flatMap((b) => b.cuts)) {
      const box = wayBox(cut);
      min = { x: Math.min(min.x, box.min.x - r), y: Math.min(min.y, box.min.y - r) };
      max = { x: Math.max(max.x, box.max.x + r), y: Math.max(max.y, box.max.y + r) };
      empty = false;
    }
  }
  return empty ? undefined : { min, max };
}

/** Of the cutter's centre: an arc bows out beyond its ends. */
function wayBox({ start, moves }: Cut): Box {
  let from = start;
  const ways = moves.map(({ to, arc }): Segment => {
    const way: Segment =
      arc === undefined
        ? line(from, to)
        : { kind: "arc", from, to, radius: distance(arc.centre, to), ...arc };
    from = to;
    return way;
  });
  return boundsOf(ways);
}
