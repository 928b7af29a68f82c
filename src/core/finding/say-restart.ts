/** Taking up an interrupted program. */
import type { Catalogue } from "./finding.ts";

export const sayRestart = {
  "restart-not-of-plan": {
    severity: "stop",
    message: (d: { file: string; known: string }) =>
      `"${d.file}" is no program of this plan, which has ${d.known}.`,
    hint: () =>
      "Name a program that the plan made. A restart that was interrupted itself: its comments name the lines of the first program.",
  },
  "restart-line-beyond": {
    severity: "stop",
    message: (d: { file: string; line: number; lines: number }) =>
      `"${d.file}" has ${d.lines} lines; there is no line ${d.line}.`,
    hint: () => "Lines are counted from 1, comments and empty lines too.",
  },
  "restart-nothing-left": {
    severity: "stop",
    message: (d: { file: string; line: number; last: number }) =>
      `At line ${d.line} of "${d.file}" nothing is left to cut; its last cut is line ${d.last}.`,
    hint: () => "If something is left, name an earlier line, or the plate.",
  },
  "restart-without-plates": {
    severity: "stop",
    message: (d: { file: string }) => `"${d.file}" does not say in comments where plates begin.`,
    hint: () => "Say --line N.",
  },
  "restart-plate-unknown": {
    severity: "stop",
    message: (d: { file: string; plate: string; known: string }) =>
      `"${d.file}" cuts no plate "${d.plate}"; it cuts ${d.known}.`,
  },
  "restart-plate-copies": {
    severity: "stop",
    message: (d: { file: string; plate: string; known: string }) =>
      `"${d.file}" cuts several copies of "${d.plate}": ${d.known}.`,
    hint: () => "Name one with its number.",
  },
  "restart-place-unknown": {
    severity: "stop",
    message: (d: { line: number }) =>
      `The program does not say where the cutter is before line ${d.line}.`,
  },
  "restart-from-start": {
    severity: "note",
    message: (d: { line: number }) =>
      `Nothing was cut before line ${d.line}: the restart is the whole program.`,
  },
} satisfies Catalogue;
