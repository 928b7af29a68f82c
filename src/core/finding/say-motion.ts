/** What the motion room has to say. */
import type { Entry } from "./finding.ts";

const entry = <D extends Record<string, number | string>>(e: Entry<D>): Entry<D> => e;

export const sayMotion = {
  "machine-cannot-be-timed": entry<{ machine: string }>({
    severity: "warn",
    message: (d) =>
      `No times: ${d.machine} has no usable acceleration, maxFeed or junctionDeviation.`,
    hint: () => "Give acceleration in mm/s² and maxFeed in mm/min above zero for X, Y and Z.",
  }),
  "moves-not-timed": entry<{ count: number; line: number }>({
    severity: "warn",
    message: (d) =>
      `${d.count} ${d.count === 1 ? "move has" : "moves have"} no feed or no length to be timed by, the first in line ${d.line}.`,
    hint: () => "Give a feed before the first G1, G2 or G3.",
  }),
  "ledger-lines-unread": entry<{ file: string; count: number; line: number }>({
    severity: "warn",
    message: (d) =>
      `${d.count} line(s) of ${d.file} are no whole record, the first is line ${d.line}: left out, the rest counts.`,
    hint: () => "A write was cut short there; record that program again if it was cut.",
  }),
  "cutter-outlasted": entry<{ cutter: string; share: number; changes: number; before: string }>({
    severity: "note",
    message: (d) =>
      `This job uses ${d.share} times the life of ${d.cutter}: its programs are split at plate ends, and a new one goes in ${d.changes === 1 ? "once" : `${d.changes} times`}, before ${d.before}.`,
    hint: (d) =>
      `Have ${d.changes} more at hand. If yours goes further, say so with lifeMetres, or record it with weftcut life.`,
  }),
  "plan-already-recorded": entry<{ dir: string; programs: string }>({
    severity: "stop",
    message: (d) => `The ledger has ${d.programs} of ${d.dir} already; nothing was recorded.`,
    hint: () => "If they were cut once more, say --again.",
  }),
  "program-recorded-before": entry<{ programs: string }>({
    severity: "note",
    message: (d) => `${d.programs} was recorded before and is not counted again.`,
    hint: () => "If it was cut once more, say --again.",
  }),
  "program-not-in-plan": entry<{ program: string; programs: string }>({
    severity: "stop",
    message: (d) => `The plan has no program ${d.program}.`,
    hint: (d) => `It has ${d.programs}.`,
  }),
  "plan-without-wear": entry<{ dir: string }>({
    severity: "stop",
    message: (d) => `plan.json in ${d.dir} does not say what its programs do to their cutters.`,
    hint: () => "Plan the job again with this weftcut, then record it.",
  }),
  "trial-not-recorded": entry<{ dir: string; trial: string }>({
    severity: "stop",
    message: (d) =>
      `The programs of ${d.dir} are a trial in ${d.trial}: what they wear is not what the ledger counts.`,
    hint: () => "Record the plan of the sheet itself when it is cut.",
  }),
  "ledger-lost-record": entry<{ file: string }>({
    severity: "stop",
    message: (d) => `${d.file} does not hold what was just written to it.`,
    hint: () => "Something else rewrites the file, or the disk is full. Record again.",
  }),
  "cutter-not-in-ledger": entry<{ cutter: string; known: string }>({
    severity: "stop",
    message: (d) => `The ledger knows no cutter ${d.cutter}.`,
    hint: (d) =>
      d.known === "" ? "It is empty: record a plan that was cut first." : `It knows ${d.known}.`,
  }),
  "plate-outlasts-cutter": entry<{ plate: string; cutter: string; share: number }>({
    severity: "warn",
    message: (d) =>
      `Plate ${d.plate} alone uses ${d.share} times the life of ${d.cutter}; a cutter is not changed within a plate.`,
    hint: () => "Take a coated cutter, or give lifeMetres if yours goes further.",
  }),
};
