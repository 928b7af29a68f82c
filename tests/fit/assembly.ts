/**
 * A three-plate assembly: two equal side plates with tenons below and above stand between a bottom and a top plate. And
 * its way to programs and back, without the job file.
 */
import { fitMates } from "../../src/core/fit/apply.ts";
import type { FitInput, FitPlate, MateWish } from "../../src/core/fit/mate.ts";
import { polygon } from "../../src/core/geometry/contour.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import type { Sheet } from "../../src/core/layout/layout.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { Trace } from "../../src/core/program/read/trace.ts";
import { writeProgram } from "../../src/core/program/write/write.ts";
import { route } from "../../src/core/toolpath/route.ts";
import { box, CUTTING, MACHINE, plateOf, ROUTER, SHEET, slot } from "../check/build.ts";

export const CUTTER = { ...ROUTER, measuredDiameter: 1.8, diameter: 1.8 };

/** Nominal 2 and 3, as measured. */
export const THIN: Sheet = { ...SHEET, name: "thin", thickness: 2, measuredThickness: 1.93 };
export const THICK: Sheet = { ...SHEET, name: "thick", thickness: 3, measuredThickness: 3.06 };

export const TENON = 8;

/** A side plate: tenons of 8 mm below (flush with 3 mm sheet) and above (flush with 2 mm). Sharp roots. */
export function side(below = 3, above = 2): Contour {
  return polygon(
    [
      [0, 0],
      [12, 0],
      [12, -below],
      [20, -below],
      [20, 0],
      [40, 0],
      [40, -below],
      [48, -below],
      [48, 0],
      [60, 0],
      [60, 30],
      [34, 30],
      [34, 30 + above],
      [26, 30 + above],
      [26, 30],
      [0, 30],
    ].map(([x, y]) => ({ x: x as number, y: y as number })),
  );
}

/** Bottom plate: four slots with round ends. Top plate: two rectangular windows. */
export const bottom = (): Plate =>
  plateOf(
    box(0, 0, 80, 60, 5),
    [-20, 20].flatMap((y) => [slot(-14, y, 2.1, 10.3), slot(14, y, 2.1, 10.3)]),
    "bottom",
  );
export const top = (): Plate =>
  plateOf(box(0, 0, 80, 60, 5), [box(0, -20, 8.2, 2.1), box(0, 20, 8.2, 2.1)], "top");

export const CLEARANCE = 0.08;

export function assembly(
  given: { relief?: MateWish["relief"]; clearance?: number; cutterFitOffset?: number } = {},
): FitInput {
  const wish = (x: number, y: number): MateWish => ({
    slot: { x, y },
    of: "side",
    clearance: given.clearance ?? CLEARANCE,
    ...(given.relief === undefined ? {} : { relief: given.relief }),
  });
  const entry = (
    name: string,
    plate: Plate,
    sheet: Sheet,
    mates: readonly MateWish[],
  ): FitPlate => ({ name, plates: [plate], sheet, count: 1, mates, relief: [] });
  return {
    plates: [
      entry("bottom", bottom(), THICK, [
        wish(-14, 20),
        wish(14, 20),
        wish(-14, -20),
        wish(14, -20),
      ]),
      entry("top", top(), THIN, [wish(0, 20), wish(0, -20)]),
      { ...entry("side", plateOf(side(), [], "side"), THIN, []), count: 2 },
    ],
    cutters: [
      given.cutterFitOffset === undefined
        ? CUTTER
        : { ...CUTTER, fitOffset: given.cutterFitOffset },
    ],
    propose: false,
  };
}

export interface Planned {
  readonly traces: readonly { readonly sheet: Sheet; readonly trace: Trace }[];
  readonly layouts: ReturnType<typeof layPlates>["value"];
  readonly fitted: ReturnType<typeof fitMates>;
}

/** Fitted, laid out, routed, written, and read back. */
export function planned(input: FitInput): Planned {
  const fitted = fitMates(input);
  const sheets = [...new Set(input.plates.map((p) => p.sheet))];
  const laid = layPlates({
    sheets,
    plates: input.plates.flatMap((p, i) =>
      (fitted.plates[i] ?? []).map((plate) => ({
        plate,
        sheet: p.sheet.name,
        count: p.count,
        gap: 5,
      })),
    ),
    widestCutter: 2,
  });
  const routed = route({
    layouts: laid.value,
    cutters: input.cutters,
    options: CUTTING,
    machine: MACHINE,
  });
  const stops = [...laid.findings, ...routed.findings].filter((f) => f.severity === "stop");
  if (stops.length > 0) throw new Error(stops.map((f) => f.message).join("\n"));
  const traces = routed.programs.map((program, i) => {
    const context = {
      job: "assembly",
      machine: MACHINE,
      options: CUTTING,
      originAt: "lower left corner",
      zAt: "sheet-top" as const,
      zero: { x: 0, y: 0 },
      number: i + 1,
      of: routed.programs.length,
    };
    return {
      sheet: program.sheet,
      trace: readProgram(`${i}.nc`, writeProgram(program, context).text),
    };
  });
  return { traces, layouts: laid.value, fitted };
}
