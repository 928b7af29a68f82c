/** What the reader of programs has to say. Columns and lines count from 1. */
import { type Catalogue, mm, type Report, reporter } from "./finding.ts";

interface At {
  readonly [key: string]: number | string;
  readonly column: number;
}
type Word = At & { readonly text: string };
type Why = At & { readonly why: string };

const ARC_FORMS: Readonly<Record<string, string>> = {
  "no-end": "an arc needs an end: X, Y or both",
  "no-centre": "an arc needs its centre (I, J) or its radius (R)",
  "both-forms": "an arc takes I and J, or R, never both",
  "k-word": "K has no meaning for an arc in the XY plane",
  "no-radius": "an arc of radius 0 has no direction",
  "no-chord": "an arc by R that ends where it starts has no centre",
  "too-small": "the radius is too small to reach the end",
};

const CYCLES: Readonly<Record<string, string>> = {
  "no-place": "a drilling cycle needs X, Y or both",
  "no-depth": "the first block of a drilling cycle needs Z and R",
  "r-below-z": "R lies below Z",
  "no-dwell": "G82 needs P, the seconds at the bottom",
  "no-peck": "G83 needs Q, a positive depth of peck",
  repeats: "L is a positive whole number",
  "too-many": "it would make more than 10 000 moves",
  "inverse-time": "a drilling cycle cannot run in inverse time (G93)",
};

const NUMBERS: Readonly<Record<string, string>> = {
  F: "F may not be negative",
  S: "S may not be negative",
  T: "T is a whole number from 0 up",
  P: "P may not be negative",
  "no-P": "G4 needs P",
};

export const sayProgram = {
  "program-bad-character": {
    severity: "stop",
    message: (d: Word) => `“${d.text}” at column ${d.column} has no place here.`,
    hint: () => "Words are a letter and a number; comments stand in ( ).",
  },
  "program-open-comment": {
    severity: "stop",
    message: (d: Word) => `The comment that opens at column ${d.column} is not closed on its line.`,
    hint: () => "Close it with ).",
  },
  "program-nested-comment": {
    severity: "stop",
    message: (d: Word) => `A comment opens inside a comment at column ${d.column}.`,
    hint: () => "Take the inner parenthesis out.",
  },
  "program-no-digits": {
    severity: "stop",
    message: (d: Word) => `${d.text} at column ${d.column} has no number.`,
  },
  "program-word-twice": {
    severity: "stop",
    message: (d: Word) => `${d.text} stands twice in this line (column ${d.column}).`,
  },
  "program-expression": {
    severity: "stop",
    message: (d: Word) => `Column ${d.column} calculates a value; what it gives is not read here.`,
    hint: () => "Write the number itself in place of parameters and expressions.",
  },
  "program-line-number": {
    severity: "stop",
    message: (d: Word) => `“${d.text}” is no line number.`,
    hint: () => "N comes first, with one to five digits and nothing else.",
  },
  "program-number-large": {
    severity: "stop",
    message: (d: Word) => `${d.text} is larger than any router's word can be.`,
  },
  "program-line-too-long": {
    severity: "stop",
    message: (d: Word) => `The line has ${d.text} characters; 256 are allowed.`,
  },
  "program-unknown-code": {
    severity: "stop",
    message: (d: Word) => `${d.text} is no code of RS-274/NGC.`,
  },
  "program-unsupported-code": {
    severity: "stop",
    message: (d: Word) => `${d.text} is not among the plain codes that can be proven.`,
    hint: (d: Word) =>
      /^G(28|30)/.test(d.text)
        ? "It homes on some controllers and goes to a saved place on others, by a way that nobody states. Raise Z, then go to a stated place."
        : "Moves in XY with G0 to G3, drilling with G81 to G83, spindle, dwell and stops are read.",
  },
  "program-two-of-a-group": {
    severity: "stop",
    message: (d: At & { first: string; second: string }) =>
      `${d.first} and ${d.second} exclude each other and stand in one line.`,
    hint: () => "Put them on lines of their own.",
  },
  "program-too-many-m": {
    severity: "stop",
    message: (d: At & { count: number }) => `${d.count} M codes in one line; four are allowed.`,
  },
  "program-two-axis-codes": {
    severity: "stop",
    message: (d: At & { first: string; second: string }) =>
      `${d.first} and ${d.second} both want the axis words of this line.`,
  },
  "program-unused-word": {
    severity: "stop",
    message: (d: Word) => `Nothing in this line uses ${d.text} (column ${d.column}).`,
  },
  "program-axis-without-motion": {
    severity: "stop",
    message: () => "Axis words, but no motion is in force.",
    hint: () => "Write G0, G1, G2 or G3 before them.",
  },
  "program-motion-without-axis": {
    severity: "stop",
    message: (d: Word) => `${d.text} without an axis word.`,
  },
  "program-zero-feed": {
    severity: "stop",
    message: () => "A feed move, and no feed has been set.",
    hint: () => "Give F on this line or before it.",
  },
  "program-inverse-feed": {
    severity: "stop",
    message: () => "In inverse time (G93) every feed move needs its own F.",
  },
  "program-arc-form": {
    severity: "stop",
    message: (d: Why) => `This arc cannot be: ${ARC_FORMS[d.why] ?? d.why}.`,
  },
  "program-arc-radius": {
    severity: "stop",
    message: (d: At & { start: number; end: number; limit: number }) =>
      `The arc starts ${mm(d.start)} from its centre and ends ${mm(d.end)} from it; ` +
      `they may differ by ${mm(d.limit)}.`,
    hint: () => "Check the signs of I and J, and write them with more decimals.",
  },
  "program-cycle": {
    severity: "stop",
    message: (d: Why) => `This drilling cycle cannot be: ${CYCLES[d.why] ?? d.why}.`,
  },
  "program-number-range": {
    severity: "stop",
    message: (d: Why) => `${NUMBERS[d.why] ?? d.why}.`,
  },
  "program-no-end": {
    severity: "stop",
    message: () => "The program does not end.",
    hint: () => "Its last line must be M2 (or M30); a cut-off file is the usual cause.",
  },
  "program-after-end": {
    severity: "note",
    message: (d: At & { lines: number }) =>
      `${d.lines} lines after the program's end are never executed.`,
  },
  "program-percent": {
    severity: "stop",
    message: () => "A % here, but the file does not begin with one.",
  },
  "program-block-delete": {
    severity: "warn",
    message: (d: At & { count: number }) =>
      `${d.count} lines begin with / and run only while block delete is off; they were taken as run.`,
    hint: () => "Take the / away, or the lines.",
  },
  "program-machine-coordinates": {
    severity: "warn",
    message: () => "G53 moves in machine coordinates; where that is on the sheet is not known.",
    hint: () => "The next move must name the axis again before it can be judged.",
  },
  "program-work-offset": {
    severity: "stop",
    message: (d: At & { first: string; second: string }) =>
      `The program moves in ${d.first} and in ${d.second}; how far they are apart is not in it.`,
    hint: () => "Use one work offset throughout.",
  },
  "program-start-unknown": {
    severity: "stop",
    message: (d: Word) => `${d.text} starts from a place that the program does not know.`,
    hint: () => "Move all axes to stated places (G90) first.",
  },
  "program-offset-at-start": {
    severity: "warn",
    message: () => "G92 names the place where the cutter happens to stand; that is taken as meant.",
  },
  "program-cutter-change": {
    severity: "stop",
    message: (d: At & { first: number; second: number }) =>
      `The program changes from cutter T${d.first} to T${d.second}.`,
    hint: () => "One program a cutter: each can then be proven against its own cutter.",
  },
} as const satisfies Catalogue;

export const reportProgram: Report<typeof sayProgram> = reporter(sayProgram);
