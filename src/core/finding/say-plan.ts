/** What the pipeline itself has to say, beyond what its stages say. */
import { type Catalogue, mm } from "./finding.ts";

export const sayPlan = {
  "drawing-missing": {
    severity: "stop",
    message: (d: { file: string }) => `${d.file} cannot be read.`,
    hint: () => "Drawings are looked for beside the job file; check the name and that it is there.",
  },
  "layout-missing": {
    severity: "stop",
    message: (d: { file: string }) => `The layout ${d.file} cannot be read.`,
    hint: () =>
      "Layouts are looked for beside the job file; without `layout` the sheet is laid out anew.",
  },
  "drawing-without-plate": {
    severity: "stop",
    message: (d: { file: string }) => `${d.file} holds no closed outline: there is nothing to cut.`,
    hint: (d: { file: string }) => `weftcut inspect ${d.file} shows what is in it.`,
  },
  "speck-left-out": {
    severity: "warn",
    message: (d: { size: number }) =>
      `A loop of ${mm(d.size)} is left out: nothing so small can be cut.`,
    hint: () => "Erase it from the drawing, or draw it at its true size.",
  },
  "sheet-outline-unclear": {
    severity: "stop",
    message: (d: { file: string; outlines: number }) =>
      `${d.file} shows ${d.outlines} outer contours; a sheet has one.`,
    hint: () => "Leave the sheet's outline alone in its drawing.",
  },
  "feed-lowered-for-blocks": {
    severity: "note",
    message: (d: { file: string; blocks: number; percent: number; blocksPerSecond: number }) =>
      `In ${d.file} ${d.blocks} short moves go slower than planned, by ${d.percent} % at most: the controller keeps up with ${d.blocksPerSecond} lines a second.`,
    hint: () =>
      "If it takes arcs, or more lines a second, say so in the machine profile (arcs, blocksPerSecond). Drawings of arcs instead of many short lines help, too.",
  },
  "border-beyond-travel": {
    severity: "note",
    message: (d: {
      sheet: string;
      width: number;
      height: number;
      travelX: number;
      travelY: number;
    }) =>
      `The border program does not go round sheet ${d.sheet}: ${mm(d.width)} by ${mm(d.height)}, and the machine moves ${mm(d.travelX)} by ${mm(d.travelY)}. It goes round what is cut.`,
    hint: () =>
      "Set zero so that the box of all cuts is in reach: run the border program to see it.",
  },
  "trial-material": {
    severity: "warn",
    message: (d: { sheet: string; trial: string; material: string; thickness: number }) =>
      `A trial in ${d.trial} of ${mm(d.thickness)} in place of sheet ${d.sheet}: spindle speed and feeds are for ${d.trial}, and would break cutters in ${d.material}. Moves, passes and depths are those of the sheet.`,
    hint: () =>
      "For the sheet itself plan the job again without --trial. Mass, wear and costs of this plan are the sheet's.",
  },
  "not-proven": {
    severity: "warn",
    message: () => "The programs are written but not proven.",
    hint: () => "Read them and run them in the air before you cut.",
  },
} satisfies Catalogue;
