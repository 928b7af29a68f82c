/** Sheets whose measured thickness is further from nominal than such sheets are made to. */
import type { MaterialName } from "../../cutting/cutter.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";

/** IPC-4101 class L, mm: up to this nominal thickness, this much off. */
const GLASS: readonly (readonly [upTo: number, off: number])[] = [
  [1.2, 0.1],
  [1.75, 0.13],
  [2.5, 0.18],
  [3.2, 0.23],
];
/** No published tolerance for carbon plate: makers' sheets say ±0.1 to 2 mm and ±0.2 above, from memory (65 % sure). */
const CARBON: readonly (readonly [upTo: number, off: number])[] = [
  [2, 0.1],
  [6, 0.2],
];
/** Thicker than the tables go: in proportion, a fifteenth (the tables' own last ratio). */
const BEYOND = 1 / 15;

export function toleranceOf(material: MaterialName, thickness: number): number {
  const table = material === "glass-epoxy" ? GLASS : CARBON;
  return table.find(([upTo]) => thickness <= upTo)?.[1] ?? thickness * BEYOND;
}

/** Further off than this it is another sheet, and the job's own reader has said so. */
const ANOTHER = 1 / 5;

export const thickness: Rule = {
  code: "sheet-thickness-off",
  asks: "Is the sheet as thick as such sheets are made?",
  reason:
    "It is another sheet than was drawn for, or it was measured on a burr: slots and screws follow it.",
  limits: [
    {
      what: "glass-epoxy, measured less nominal",
      value: "±0.10 to 1.2 mm, ±0.13 to 1.75, ±0.18 to 2.5, ±0.23 to 3.2",
      source: "IPC-4101, class L",
    },
    {
      what: "carbon, measured less nominal",
      value: "±0.10 to 2 mm, ±0.20 to 6",
      source: "from memory (65 % sure); none published",
    },
  ],
  when: "plates",
  run: (view) =>
    view.sheets.flatMap((s) => {
      const measured = s.measuredThickness;
      if (measured === undefined) return [];
      const off = Math.abs(measured - s.thickness);
      const most = toleranceOf(s.material, s.thickness);
      if (off <= most + AT_LIMIT || off > s.thickness * ANOTHER) return [];
      const data = { found: measured, wanted: s.thickness, off, most };
      return [reportCheck("sheet-thickness-off", data, { sheet: s.name })];
    }),
};
