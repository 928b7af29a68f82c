/** Will it cut: jobs just outside and just inside each limit. */
import { NUT_RADIUS } from "../../../src/core/check/cut/collet.ts";
import type { CheckInput } from "../../../src/core/check/view.ts";
import { placeContour, rectangle } from "../../../src/core/geometry/contour.ts";
import type { KeepOut } from "../../../src/core/layout/layout.ts";
import {
  box,
  CUTTING,
  hole,
  jobOf,
  MACHINE,
  onePlate,
  plateOf,
  ROUTER,
  rounded,
  SHEET,
  slot,
} from "../build.ts";
import { type Case, HAIR } from "./case.ts";

const blank = box(0, 0, 60, 40, 4);

/** A window of two rooms, joined by a passage of this width. */
const rooms = (passage: number) => {
  const h = passage / 2;
  return rounded(
    [
      [-14, -8],
      [-4, -8],
      [-4, -h],
      [4, -h],
      [4, -8],
      [14, -8],
      [14, 8],
      [4, 8],
      [4, h],
      [-4, h],
      [-4, 8],
      [-14, 8],
    ],
    1.2,
  );
};

/** The plate where its drawing has it, a clamp to its right. */
function beside(gap: number, overhang: number): CheckInput {
  const plate = plateOf(box(60, 40, 60, 40, 4));
  const clamp: KeepOut = {
    kind: "box",
    box: { min: { x: 90 + gap, y: 30 }, max: { x: 110 + gap, y: 50 } },
  };
  const sheet = { ...SHEET, keepOuts: [clamp] };
  const plateToSheet = { x: 0, y: 0, angle: 0, flipped: false };
  const outer = placeContour(plate.outer, plateToSheet);
  return jobOf({
    plates: [{ plate, sheet }],
    sheets: [sheet],
    cutters: [{ ...ROUTER, overhang }],
    layouts: [
      {
        sheet,
        placements: [{ plate, copy: 1, plateToSheet, outer, features: plate.features }],
        utilisation: 0,
      },
    ],
  });
}

const thick = (measuredThickness: number, thickness = 2, glass = false): CheckInput => {
  const material = glass ? ("glass-epoxy" as const) : SHEET.material;
  return jobOf({ sheets: [{ ...SHEET, material, thickness, measuredThickness }] });
};

const scaled = (x: number): CheckInput => ({
  ...onePlate(box(0, 0, 100, 40, 4)),
  machine: { ...MACHINE, axisScale: [x, 1] },
});

const squared = (r: number) =>
  onePlate(blank, [r === 0 ? rectangle(-10, -6, 10, 6) : box(0, 0, 20, 12, r)]);

export const cutCases: readonly Case[] = [
  {
    code: "slot-narrower-than-cutter",
    what: "a slot below the cutter's width",
    severity: "stop",
    outside: onePlate(blank, [slot(0, 0, 1.99, 20)]),
    inside: onePlate(blank, [slot(0, 0, 2, 20)]),
    found: 1.99,
    wanted: 2,
    at: [0, 0],
  },
  {
    code: "slot-narrower-than-cutter",
    what: "a hole that would be a straight plunge",
    severity: "stop",
    outside: onePlate(blank, [hole(0, 0, 2.02)]),
    inside: onePlate(blank, [hole(0, 0, 2.021)]),
    found: 2.02,
    wanted: 2,
    at: [0, 0],
  },
  {
    code: "slot-narrower-than-cutter",
    what: "a window that the cutter does not enter",
    severity: "stop",
    outside: onePlate(blank, [rectangle(-10, -0.99, 10, 0.99)]),
    inside: onePlate(blank, [rectangle(-10, -1.01, 10, 1.01)]),
    found: 1.98,
    wanted: 2,
    at: [0, 0],
  },
  {
    code: "neck-narrower-than-cutter",
    what: "a passage between two rooms of a window",
    severity: "stop",
    outside: onePlate(blank, [rooms(1.98)]),
    inside: onePlate(blank, [rooms(2.02)]),
    // The largest cutter that passes, downwards to a twentieth.
    found: 1.95,
    wanted: 2,
    within: 1e-9,
  },
  {
    code: "slot-near-cutter-width",
    what: "a slot that both edges cut at once",
    severity: "warn",
    outside: onePlate(blank, [slot(0, 0, 2.06 - HAIR, 20)]),
    inside: onePlate(blank, [slot(0, 0, 2.06, 20)]),
    found: 2.059,
    wanted: 2.06,
    at: [0, 0],
  },
  {
    code: "corner-stays-round",
    what: "a square window",
    severity: "note",
    outside: squared(0),
    inside: squared(1),
    found: 0,
    wanted: 1,
  },
  {
    code: "curve-tighter-than-cutter",
    what: "a window rounded less than the cutter is",
    severity: "warn",
    outside: squared(1 - HAIR),
    inside: squared(1),
    found: 0.999,
    wanted: 1,
  },
  {
    code: "flute-shorter-than-cut",
    what: "flutes of the sheet's thickness and a little",
    severity: "stop",
    outside: { ...onePlate(blank), cutters: [{ ...ROUTER, fluteLength: 2.25 - HAIR }] },
    inside: { ...onePlate(blank), cutters: [{ ...ROUTER, fluteLength: 2.25 }] },
    found: 2.249,
    wanted: 2.25,
  },
  {
    code: "collet-near-keep-out",
    what: "a clamp within the nut's reach",
    severity: "warn",
    outside: beside(NUT_RADIUS - 1 - HAIR, 8),
    inside: beside(NUT_RADIUS - 1, 8),
    found: NUT_RADIUS - HAIR,
    wanted: NUT_RADIUS,
  },
  {
    code: "collet-near-keep-out",
    what: "a nut that comes lower than clamps may be high",
    severity: "warn",
    outside: beside(5, CUTTING.clearance + 2.25 - HAIR),
    inside: beside(5, CUTTING.clearance + 2.25),
    found: 6,
    wanted: NUT_RADIUS,
  },
  {
    code: "sheet-thickness-off",
    what: "carbon of 2 mm",
    severity: "warn",
    outside: thick(1.9 - HAIR),
    inside: thick(1.9),
    found: 1.899,
    wanted: 2,
  },
  {
    code: "sheet-thickness-off",
    what: "glass of 1.6 mm (IPC-4101 class L: ±0.13)",
    severity: "warn",
    outside: thick(1.73 + HAIR, 1.6, true),
    inside: thick(1.73, 1.6, true),
    found: 1.731,
    wanted: 1.6,
  },
  {
    code: "sheet-thickness-off",
    what: "glass of 3.2 mm (IPC-4101 class L: ±0.23)",
    severity: "warn",
    outside: thick(3.43 + HAIR, 3.2, true),
    inside: thick(3.43, 3.2, true),
    found: 3.431,
    wanted: 3.2,
  },
  {
    code: "size-unlike-a-plate",
    what: "a plate drawn in inches and read as mm",
    severity: "warn",
    outside: onePlate(box(0, 0, 8 - HAIR, 5, 1)),
    inside: onePlate(box(0, 0, 8, 5, 1)),
    found: 7.999,
    wanted: 8,
  },
  {
    code: "size-unlike-a-plate",
    what: "a plate larger than any",
    severity: "warn",
    outside: onePlate(box(0, 0, 500 + HAIR, 100, 4)),
    inside: onePlate(box(0, 0, 500, 100, 4)),
    found: 500.001,
    wanted: 500,
  },
  {
    code: "axis-scale-off",
    what: "X that moves too far over 100 mm",
    severity: "warn",
    outside: scaled(1.00051),
    inside: scaled(1.0005),
    found: 0.051,
    wanted: 0.05,
  },
];
