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
  "cutter-outlasted": entry<{ cutter: string; share: number; changes: number }>({
    severity: "note",
    message: (d) =>
      `This job uses ${d.share} times the life of ${d.cutter}: it is split at plate ends into ${d.changes + 1} programs with a new cutter for each.`,
  }),
  "plate-outlasts-cutter": entry<{ plate: string; cutter: string; share: number }>({
    severity: "warn",
    message: (d) =>
      `Plate ${d.plate} alone uses ${d.share} times the life of ${d.cutter}; a cutter is not changed within a plate.`,
    hint: () => "Take a coated cutter, or give lifeMetres if yours goes further.",
  }),
};
