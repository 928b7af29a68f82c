/** A job with one sheet, from which coupons are planned. */
import { MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { type Coupon, couponOf } from "../../src/core/coupon/coupon.ts";
import { rectangle } from "../../src/core/geometry/contour.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import type { Job, JobSheet } from "../../src/core/job/job.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

export interface JobGiven {
  readonly size?: readonly [number, number];
  readonly diameter?: number;
  readonly thickness?: number;
  readonly keepOut?: string;
}

export function jobText(given: JobGiven = {}): string {
  const { size = [300, 200], diameter = 2, thickness = 2, keepOut = "[]" } = given;
  return `weftcut: 1
name: trial
machine: machine.yaml
sheets:
  - name: carbon
    material: carbon-woven
    thickness: ${thickness}
    size: [${size.join(", ")}]
    keepOut: ${keepOut}
plates:
  - { name: any, drawing: any.dxf, sheet: carbon }
cutters:
  # The one in the collet.
  - { name: router, kind: diamond-router, diameter: ${diameter}, fluteLength: 8, overhang: 14 }
  - { name: large, kind: two-flute, diameter: 3.175, fluteLength: 10, overhang: 16 }
  - { name: drill, kind: drill, diameter: 3.2, fluteLength: 16, overhang: 20 }
`;
}

export function jobOf(given: JobGiven = {}): Job {
  const read = (name: string) => (name === "machine.yaml" ? bytes(MACHINE_YAML) : undefined);
  const { value, findings } = parseJob({ name: "job.yaml", text: jobText(given) }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return value;
}

export function outlineOf(sheet: JobSheet): Contour | undefined {
  const { shape } = sheet;
  return shape.kind === "size" ? rectangle(0, 0, shape.width, shape.height) : undefined;
}

export function couponFor(given: JobGiven = {}, cutter?: string): Coupon {
  const { value, findings } = couponOf(jobOf(given), { clearance: 0.1, cutter }, outlineOf);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return value;
}

export function planned(coupon: Coupon): Planned {
  const read = (name: string) => {
    const text = coupon.drawings.get(name);
    return text === undefined ? undefined : bytes(text);
  };
  return planJob(coupon.job, read);
}
