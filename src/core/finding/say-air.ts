/** Running a program in the air. */
import { type Catalogue, mm } from "./finding.ts";

type Worst = { worst: number; limit: number; unit: string };

export const sayAir = {
  "air-too-low": {
    severity: "stop",
    message: (d: { raise: number; least: number; height: number; clearance: number }) =>
      `Raised by ${mm(d.raise)}, the cutter comes down to ${mm(d.height)} above the sheet; ${mm(d.clearance)} are kept.`,
    hint: (d: { least: number }) => `Raise it by ${mm(d.least)} or more.`,
  },
  "air-without-moves": {
    severity: "stop",
    message: (d: { file: string }) => `"${d.file}" moves nothing.`,
  },
  "air-height": {
    severity: "stop",
    message: (d: Worst) => `The air run comes down to ${mm(d.worst)} above the sheet.`,
  },
  "air-spindle": {
    severity: "stop",
    message: (d: Worst) => `The spindle turns in the air run, ${d.worst} times.`,
  },
  "air-astray": {
    severity: "stop",
    message: (d: Worst) => `The air run goes another way than the program, by ${mm(d.worst)}.`,
    hint: () => "Run neither before you know why: compare the two at that line.",
  },
} satisfies Catalogue;
