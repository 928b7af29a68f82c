/** What fits have to say: every change to a drawn contour, and what could not be fitted. */
import { type Catalogue, type Finding, mm, type Report, reporter } from "./finding.ts";

type ReliefData = {
  readonly relief: string;
  readonly radius: number;
  readonly bite: number;
};

const WAYS: Readonly<Record<string, string>> = {
  "round-ends": "round ends beyond the tenon",
  "along-wall": "relief along the longer walls",
  bisector: "relief on the bisectors",
};

function relief(d: ReliefData): string {
  if (d.relief === "none") return "no relief";
  return `${WAYS[d.relief] ?? d.relief}, radius ${mm(d.radius)}, bite ${mm(d.bite)}`;
}

function change(what: string, before: number, after: number): string {
  return mm(before) === mm(after)
    ? `${what} ${mm(after)} as drawn`
    : `${what} ${mm(before)} → ${mm(after)}`;
}

export const sayFit = {
  "slot-fitted": {
    severity: "note",
    message: (
      d: ReliefData & {
        of: string;
        thickness: number;
        fit: string;
        clearance: number;
        offset: number;
        widthBefore: number;
        width: number;
        lengthBefore: number;
        length: number;
      },
    ) =>
      `Slot for ${d.of} (sheet ${mm(d.thickness)}, ${d.fit === "" ? "clearance" : `${d.fit}:`} ${mm(d.clearance)}${d.offset === 0 ? "" : ` and ${mm(d.offset)} by the coupon`}): ${change("width", d.widthBefore, d.width)}, ${change("length", d.lengthBefore, d.length)}; ${relief(d)}.`,
    hint: () => "To cut it as drawn, take it out of mates.",
  },
  "tenon-fitted": {
    severity: "note",
    message: (
      d: ReliefData & {
        host: string;
        width: number;
        reachBefore: number;
        reach: number;
        corners: number;
      },
    ) =>
      `Tenon of ${mm(d.width)} for ${d.host}: ${d.reach === d.reachBefore ? `reaches ${mm(d.reach)}` : `reach ${mm(d.reachBefore)} → ${mm(d.reach)}`}; ${d.corners === 0 ? "roots as drawn" : `${d.corners} root${d.corners === 1 ? "" : "s"} cut free, ${relief(d)}`}.`,
    hint: () => "To cut it as drawn, take its slot out of mates.",
  },
  "window-relieved": {
    severity: "note",
    message: (d: ReliefData & { corners: number }) =>
      `${d.corners} corner${d.corners === 1 ? "" : "s"} of this window cut free: ${relief(d)}.`,
    hint: () => "To cut it as drawn, take it out of relief.",
  },
  "mate-without-slot": {
    severity: "warn",
    message: (d: { of: string; x: number; y: number }) =>
      `No slot or window at (${d.x}, ${d.y}) for ${d.of} to sit in.`,
    hint: () => "Give a point inside the slot, in the drawing's own mm.",
  },
  "mate-without-tenon": {
    severity: "warn",
    message: (d: { of: string; length: number; x: number; y: number }) =>
      `${d.of} has no tenon that fits the ${mm(d.length)} slot at (${d.x}, ${d.y}); its edges are not kept clear of tabs.`,
    hint: () =>
      "A tenon is a straight end between two square corners, up to 2 mm shorter than the slot.",
  },
  "mate-with-two-fits": {
    severity: "warn",
    message: (d: { fit: string; clearance: number }) =>
      `This mate names the fit "${d.fit}" and a clearance; the clearance of ${mm(d.clearance)} is taken.`,
    hint: () => "Take one of them away.",
  },
  "mate-slot-odd": {
    severity: "warn",
    message: (d: { of: string }) =>
      `The opening for ${d.of} is neither a slot nor a rectangle: it is cut as drawn, whatever the sheet measures.`,
    hint: () => "Draw it with two straight long walls and two straight or round ends.",
  },
  "mate-slot-unlike": {
    severity: "warn",
    message: (d: { of: string; found: number; wanted: number }) =>
      `The slot for ${d.of} is ${mm(d.found)} wide; its sheet and clearance ask for ${mm(d.wanted)}. It is cut as drawn.`,
    hint: () => "See that the mate names the slot that was meant, and the plate its sheet.",
  },
  "tenon-too-short": {
    severity: "warn",
    message: (d: { found: number; wanted: number; host: string }) =>
      `This tenon reaches ${mm(d.found)} into ${d.host}, which is ${mm(d.wanted)} thick.`,
    hint: (d: { found: number; wanted: number }) =>
      `Draw it ${mm(d.wanted - d.found)} longer if it is to come through.`,
  },
  "tenon-without-slot": {
    severity: "warn",
    message: (d: { width: number; found: number; wanted: number; thickness: number }) =>
      `There are ${d.wanted} tenons of ${mm(d.width)} on the copies of this plate, and ${d.found} slots named for them.`,
    hint: (d: { width: number; thickness: number }) =>
      `Name the others under mates, or draw slots of ${mm(d.width)} by ${mm(d.thickness)} and their clearance; mates: find proposes what is drawn.`,
  },
  "tenon-root-tight": {
    severity: "warn",
    message: (d: { radius: number }) =>
      `This root cannot be cut free with a radius of ${mm(d.radius)}: the edge beside it is too short. The plate will not come down on its shoulder.`,
    hint: () => "Draw the shoulder wider, or add a smaller cutter.",
  },
  "mate-proposed": {
    severity: "note",
    message: (d: { of: string; x: number; y: number; thickness: number }) =>
      `A tenon of ${d.of} (sheet ${mm(d.thickness)}) would sit in this slot; nothing is changed for it.`,
    hint: (d: { of: string; x: number; y: number }) =>
      `If that is meant, write under mates: { slot: [${d.x}, ${d.y}], of: ${d.of}, fit: snug }`,
  },
  "relief-without-window": {
    severity: "warn",
    message: (d: { x: number; y: number }) => `No slot or window at (${d.x}, ${d.y}) to relieve.`,
    hint: () => "Give a point inside the window, in the drawing's own mm.",
  },
  "relief-without-corner": {
    severity: "warn",
    message: (d: { radius: number }) =>
      `This window has no sharp corner between straight walls long enough for a relief of radius ${mm(d.radius)}.`,
    hint: () => "Rounded corners need none; for short walls ask for a smaller radius.",
  },
} satisfies Catalogue;

export const reportFit: Report<typeof sayFit> = reporter(sayFit);

/** One finding for several slots or tenons of a plate that were changed alike; its place is the first one's. */
export function timesFitted(finding: Finding, count: number): Finding {
  if (count === 1) return finding;
  const message = finding.message
    .replace(/^Slot for/, `${count} slots for`)
    .replace(/^Tenon of/, `${count} tenons of`);
  return {
    ...finding,
    message,
    data: { ...finding.data, [finding.code === "slot-fitted" ? "slots" : "tenons"]: count },
  };
}
