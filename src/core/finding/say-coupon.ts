/** What the coupon has to say, from its planning to what its measures come to. */
import { type Catalogue, mm, type Report, reporter } from "./finding.ts";

export const sayCoupon = {
  "coupon-unknown": {
    severity: "stop",
    message: (d: { what: string; name: string; known: string }) =>
      d.name === ""
        ? `The job has no ${d.what} for a coupon.`
        : `The job has no ${d.what} "${d.name}" for a coupon.`,
    hint: (d: { known: string }) =>
      d.known === "" ? "Name one in the job." : `Known here: ${d.known}.`,
  },
  "coupon-no-outline": {
    severity: "stop",
    message: (d: { sheet: string }) => `The outline of sheet "${d.sheet}" cannot be read.`,
    hint: () => "weftcut check JOB says why.",
  },
  "coupon-no-room": {
    severity: "stop",
    message: (d: { sheet: string; width: number; height: number }) =>
      `There is no room on "${d.sheet}" for a coupon of ${mm(d.width)} × ${mm(d.height)} clear of its margin and keep-outs.`,
    hint: () =>
      "Take an offcut of the same plate as a sheet of the job, and name it after --sheet.",
  },
  "coupon-slots-left-out": {
    severity: "note",
    message: (d: {
      made: number;
      of: number;
      cutter: string;
      diameter: number;
      thickness: number;
    }) =>
      `${d.made} of ${d.of} fit slots are made: ${d.cutter} (${mm(d.diameter)}) does not enter those for a sheet of ${mm(d.thickness)}.`,
  },
  "coupon-too-few": {
    severity: "stop",
    message: (d: { walls: number }) =>
      `${d.walls} measured walls do not tell a diameter and two axes: at least one along X, one along Y, and one more of another length or side are needed.`,
    hint: () => "Fill in two walls along X and two along Y.",
  },
  "coupon-wall-wild": {
    severity: "stop",
    message: (d: { id: string; found: number; drawn: number; wanted: number }) =>
      `Measure ${d.id} is ${mm(d.found)} where ${mm(d.drawn)} was drawn: more than ${mm(d.wanted)} off, which no cutter and no machine is.`,
    hint: () =>
      "Look whether its point is in the wrong place, its row another's, or its unit inch.",
  },
  "coupon-no-step": {
    severity: "stop",
    message: (d: { what: string; found: number; known: string }) =>
      `There is no ${d.what} ${d.found} on the coupon.`,
    hint: (d: { what: string; known: string }) =>
      d.known === ""
        ? `It has no ${d.what}s: leave that blank.`
        : `Give one of ${d.known}, a half between two, or leave it blank.`,
  },
  "coupon-fit-wild": {
    severity: "stop",
    message: (d: { found: number; wanted: number }) =>
      `By this coupon fits come out ${mm(d.found)} off what was planned; more than ${mm(d.wanted)} has another cause.`,
    hint: () =>
      "Look at the sheet's thickness and the numbers of the best slot and tongue; leave the best ones blank to do without.",
  },
  "coupon-decimal-comma": {
    severity: "stop",
    message: (d: { text: string; line: number }) =>
      `"${d.text}" (line ${d.line}) has a comma where a decimal point belongs.`,
    hint: (d: { text: string }) => `Write ${d.text.replace(",", ".")}.`,
  },
  "coupon-slip": {
    severity: "stop",
    message: (d: { id: string; found: number; wanted: number }) =>
      `Measure ${d.id} is ${mm(d.found)} off what the others say; ${mm(d.wanted)} is a slip of the hand.`,
    hint: (d: { id: string }) => `Measure ${d.id} again, or leave it out.`,
  },
  "coupon-scale-wild": {
    severity: "stop",
    message: (d: { axis: string; found: number; wanted: number }) =>
      `By this coupon the machine moves ${Number(d.found.toFixed(4))} mm in ${d.axis} for each mm: more than ${100 * d.wanted} % off.`,
    hint: () => "Look whether measures were typed in the wrong rows, or inch for mm.",
  },
  "coupon-not-written": {
    severity: "stop",
    message: (d: { file: string; what: string }) =>
      `${d.file} has no place where ${d.what} could be written by itself.`,
    hint: () => "Write the values shown above in by hand.",
  },
} satisfies Catalogue;

export const reportCoupon: Report<typeof sayCoupon> = reporter(sayCoupon);
