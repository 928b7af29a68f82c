/** The comparison as a table for people. */
import type { Comparison, CutterRow } from "./compare.ts";

/** One line a cutter, what it cannot make and what stands against it below. */
export function compareText(comparison: Comparison, currency: string): string {
  const head = [
    "cutter",
    "minutes",
    "metres cut",
    "life used",
    "bends mm",
    `cost ${currency}`,
    "corners left mm²",
  ];
  const rows = comparison.rows.map((r) => [
    r.cutter,
    r.minutes.toFixed(1),
    r.cutMetres.toFixed(2),
    `${Math.round(r.lifeUsed * 100)} %`,
    r.deflectionMm.toFixed(3),
    r.cost.toFixed(2),
    r.leftMm2.toFixed(1),
  ]);
  const widths = head.map((h, i) => Math.max(h.length, ...rows.map((r) => r[i]?.length ?? 0)));
  const row = (cells: readonly string[]): string =>
    cells
      .map((c, i) => (i === 0 ? c.padEnd(widths[i] ?? 0) : c.padStart(widths[i] ?? 0)))
      .join("  ");
  return [
    row(head),
    ...comparison.rows.flatMap((r, i) => [row(rows[i] ?? []), ...cannotText(r)]),
    "",
    ...comparison.assumptions,
    "",
  ].join("\n");
}

function cannotText(row: CutterRow): readonly string[] {
  const counted = new Map<string, number>();
  for (const c of row.cannot) {
    const size = c.size === undefined ? "" : ` of ${Number(c.size.toFixed(3))}`;
    const name = `${c.plate}: ${c.kind}${size}`;
    counted.set(name, (counted.get(name) ?? 0) + 1);
  }
  const stopped = row.findings.filter((f) => f.severity === "stop").map((f) => `  ${f.message}`);
  if (stopped.length > 0) return stopped;
  return [...counted].map(([name, n]) => `  cannot make ${n === 1 ? "" : `${n} × `}${name}`);
}
