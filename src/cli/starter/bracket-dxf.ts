/**
 * The starter job's drawing: a bracket of 60 × 24 mm with round corners, two M3 clearance holes and a
 * slot for a strap, as lines, arcs and circles in mm.
 */

type Group = readonly [code: number, value: string | number];

const LAYER: Group = [8, "CUT"];

function line(x0: number, y0: number, x1: number, y1: number): readonly Group[] {
  return [[0, "LINE"], LAYER, [10, x0], [20, y0], [11, x1], [21, y1]];
}

/** Counter-clockwise, degrees. */
function arc(x: number, y: number, radius: number, from: number, to: number): readonly Group[] {
  return [[0, "ARC"], LAYER, [10, x], [20, y], [40, radius], [50, from], [51, to]];
}

function circle(x: number, y: number, diameter: number): readonly Group[] {
  return [[0, "CIRCLE"], LAYER, [10, x], [20, y], [40, diameter / 2]];
}

function roundedBox(width: number, height: number, r: number): readonly Group[] {
  return [
    ...line(r, 0, width - r, 0),
    ...arc(width - r, r, r, 270, 0),
    ...line(width, r, width, height - r),
    ...arc(width - r, height - r, r, 0, 90),
    ...line(width - r, height, r, height),
    ...arc(r, height - r, r, 90, 180),
    ...line(0, height - r, 0, r),
    ...arc(r, r, r, 180, 270),
  ];
}

/** Lying, between the centres of its half circles. */
function slot(x0: number, x1: number, y: number, width: number): readonly Group[] {
  const r = width / 2;
  return [
    ...line(x0, y - r, x1, y - r),
    ...arc(x1, y, r, 270, 90),
    ...line(x1, y + r, x0, y + r),
    ...arc(x0, y, r, 90, 270),
  ];
}

export function bracketDxf(): string {
  const groups: readonly Group[] = [
    [999, "weftcut starter: bracket 60 x 24 mm"],
    [0, "SECTION"],
    [2, "HEADER"],
    [9, "$ACADVER"],
    [1, "AC1009"],
    [9, "$INSUNITS"],
    [70, 4],
    [0, "ENDSEC"],
    [0, "SECTION"],
    [2, "ENTITIES"],
    ...roundedBox(60, 24, 4),
    // M3, ISO 273 fine: 3.2 mm.
    ...circle(8, 12, 3.2),
    ...circle(52, 12, 3.2),
    ...slot(21.5, 38.5, 12, 3),
    [0, "ENDSEC"],
    [0, "EOF"],
  ];
  return groups.map(([code, value]) => `${String(code).padStart(3)}\n${value}\n`).join("");
}
