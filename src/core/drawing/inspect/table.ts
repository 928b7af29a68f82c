/** Tables as plain text: columns as wide as their widest cell, numbers to the right. */
import { degrees } from "../../geometry/trig.ts";
import type { Feature, Plate } from "../../plate/plate.ts";

/** Rows of a plate's features; a plate of hundreds of vents would push everything else off the screen. */
const ROWS = 80;

/** Rows of cells as lines; an empty column takes no room. */
export function table(rows: readonly (readonly string[])[]): string[] {
  const columns = Math.max(0, ...rows.map((r) => r.length));
  const widths = Array.from({ length: columns }, (_, i) =>
    Math.max(...rows.map((r) => (r[i] ?? "").length)),
  );
  return rows.map((r) => {
    const cells = widths.flatMap((w, i) => {
      const cell = r[i] ?? "";
      if (w === 0) return [];
      return [isNumber(cell) ? cell.padStart(w) : cell.padEnd(w)];
    });
    return `  ${cells.join("  ")}`.trimEnd();
  });
}

function isNumber(cell: string): boolean {
  return /^-?\d+(?:\.\d+)?$/.test(cell);
}

export function featureTable(p: Plate): string {
  if (p.features.length === 0) return "";
  const shown = p.features.slice(0, ROWS);
  const head = ["#", "kind", "diameter", "width", "length", "angle°", "depth", "x", "y", "area"];
  const body = shown.map(row);
  // Columns that no feature of this plate fills are left out with their heads.
  const used = head.map((_, i) => body.some((r) => r[i] !== ""));
  const rows = [head, ...body].map((r) => r.map((cell, i) => (used[i] === true ? cell : "")));
  const rest = p.features.length - shown.length;
  const lines = [...table(rows), ...(rest > 0 ? [`  and ${rest} more; --json has all`] : [])];
  return `${lines.join("\n")}\n`;
}

function row(f: Feature): string[] {
  return [
    String(f.id + 1),
    f.kind,
    cell(f.diameter, 3),
    cell(f.width, 3),
    cell(f.length, 3),
    cell(f.angle === undefined ? undefined : degrees(f.angle), 2),
    cell(f.depth, 3),
    cell(f.at.x, 3),
    cell(f.at.y, 3),
    cell(f.area, 2),
  ];
}

function cell(v: number | undefined, digits: number): string {
  return v === undefined ? "" : (Number(v.toFixed(digits)) + 0).toFixed(digits);
}
