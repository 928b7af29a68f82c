/**
 * Offcuts of a plan's sheets, each with the name of its drawing.
 */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import { type Offcut, offcutsOf } from "../../layout/offcut/offcut.ts";
import { offcutDxf } from "../../layout/offcut/offcut-dxf.ts";
import { fileSlug, type Job } from "../job.ts";

export interface FiledOffcut {
  readonly file: string;
  readonly offcut: Offcut;
}

/** What holds a plate of this width inside the sheet's margin is kept, mm. Common practice, no source. */
const LEAST_PLATE = 25;

/** Of a sheet that is cut at all. */
export function offcutsFor(layout: SheetLayout, job: Job): FiledOffcut[] {
  const { sheet, placements } = layout;
  if (placements.length === 0) return [];
  const kerf = Math.max(...job.cutters.map(effectiveDiameter));
  const leastWidth = 2 * sheet.margin + LEAST_PLATE;
  return offcutsOf(layout, { kerf, leastWidth }).map((offcut, i) => ({
    file: `offcut-${fileSlug(sheet.name)}-${i + 1}.dxf`,
    offcut,
  }));
}

export function offcutFile({ file, offcut }: FiledOffcut, job: Job): [string, string] {
  return [file, offcutDxf(offcut, `${job.name}: rest of ${offcut.sheet}`)];
}
