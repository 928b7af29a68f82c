/** Where on a sheet a finding is: spots in the sheet's frame, and the plates that it is about. */
import type { Finding } from "../../core/finding/finding.ts";
import { placePoint } from "../../core/geometry/segment.ts";
import type { Point } from "../../core/geometry/shape.ts";
import type { SheetJson } from "../../core/job/plan-json.ts";
import { rigidOf } from "../../core/layout/fixed.ts";
import type { Lying } from "./lying.ts";

/** A name by which a plate's copies of a drawing with several outlines are known, too. */
function isOf(plate: string, named: string): boolean {
  return plate === named || plate.replace(/-\d+$/, "") === named;
}

export function isAbout(finding: Finding, { placement: p }: Lying, sheet: SheetJson): boolean {
  if (finding.sheet !== undefined && finding.sheet !== sheet.name) return false;
  const { other } = finding.data;
  const named = finding.plate ?? finding.data["plate"];
  if (typeof named === "string") {
    const copied = `${p.plate} ${p.copy}`;
    return isOf(p.plate, named) || copied === named || p.plate === other || copied === other;
  }
  return finding.drawing !== undefined && finding.drawing.file === p.drawing;
}

/** In the plate's frame where a plate is named, else in the sheet's. */
export function spotsOf(finding: Finding, all: readonly Lying[], sheet: SheetJson): Point[] {
  const { at, plate } = finding;
  if (at === undefined) return [];
  const point = { x: at[0], y: at[1] };
  if (plate === undefined && finding.sheet === sheet.name) return [point];
  return all
    .filter((lying) => isAbout(finding, lying, sheet))
    .map(({ place }) => placePoint(point, rigidOf(place)));
}

/** Whether anything of the finding can be seen on this sheet. */
export function isOn(finding: Finding, all: readonly Lying[], sheet: SheetJson): boolean {
  if (finding.sheet !== undefined) return finding.sheet === sheet.name;
  return all.some((lying) => isAbout(finding, lying, sheet));
}

const ORDER = { stop: 0, warn: 1, note: 2 } as const;

/** Gravest first, as the job sheet and the command line tell them. */
export function inOrder(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);
}
