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
  "coupon-slip": {
    severity: "warn",
    message: (d: { id: string; found: number; wanted: number }) =>
      `Measure ${d.id} is ${mm(d.found)} off what the others say; ${mm(d.wanted)} is a slip of the hand.`,
    hint: (d: { id: string }) => `Measure ${d.id} again, or leave it out.`,
  },
  "coupon-scale-wild": {
    severity: "warn",
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
