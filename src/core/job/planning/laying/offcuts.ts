/**
 * Offcuts of a plan's sheets, each with the name of its drawing.
 */
import { effectiveDiameter } from "../../../cutting/cutter.ts";
import { once } from "../../../geometry/remember.ts";
import type { SheetLayout } from "../../../layout/layout.ts";
import { cutSheetOf, type Offcut, offcutsOf } from "../../../layout/offcut/offcut.ts";
import { offcutDxf } from "../../../layout/offcut/offcut-dxf.ts";
import { fileSlug, type Job } from "../../job.ts";
import type { Runner } from "../../work/errands.ts";
import { keyOf, type PlanMemory } from "../../work/memory.ts";

export interface FiledOffcut {
  readonly file: string;
  readonly offcut: Offcut;
}

/** What holds a plate of this width inside the sheet's margin is kept, mm. Common practice, no source. */
const LEAST_PLATE = 25;

/** Of a sheet that is cut at all. Sent out at once, waited for where they are fetched. */
export function offcutsFor(
  layout: SheetLayout,
  job: Job,
  { memory, elsewhere }: { readonly memory: PlanMemory; readonly elsewhere: Runner },
): () => readonly FiledOffcut[] {
  const { sheet } = layout;
  if (layout.placements.length === 0) return () => [];
  const kerf = Math.max(...job.cutters.map(effectiveDiameter));
  const options = { kerf, leastWidth: 2 * sheet.margin + LEAST_PLATE };
  const fetch = memory.recall(
    "offcuts",
    () => keyOf(memory.id(layout), options),
    () => {
      const cut = cutSheetOf(layout);
      return once(elsewhere("offcuts", { ...cut, options }, () => offcutsOf(cut, options)).fetch);
    },
  );
  return () =>
    fetch().map((offcut, i) => ({
      file: `offcut-${fileSlug(sheet.name)}-${i + 1}.dxf`,
      offcut,
    }));
}

export function offcutFile({ file, offcut }: FiledOffcut, job: Job): [string, string] {
  return [file, offcutDxf(offcut, `${job.name}: rest of ${offcut.sheet}`)];
}
