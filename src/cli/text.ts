/** Text for people on a terminal. */

/** Columns as wide as they need to be; the first to the left, numbers to the right. */
export function table(rows: readonly (readonly string[])[]): string {
  const width = (column: number) =>
    rows.reduce((most, row) => Math.max(most, row[column]?.length ?? 0), 0);
  const widths = (rows[0] ?? []).map((_, column) => width(column));
  const line = (row: readonly string[]) =>
    row
      .map((cell, c) =>
        /^[\d.,:-]+( [a-z%/]+)?$/.test(cell)
          ? cell.padStart(widths[c] ?? 0)
          : cell.padEnd(widths[c] ?? 0),
      )
      .join("  ")
      .trimEnd();
  return `${rows.map(line).join("\n")}\n`;
}

/** `1:02:03`, `4:05` or `0:07`; rounded up, so that nobody waits longer than told. */
export function minutes(seconds: number): string {
  const whole = Math.ceil(seconds - 1e-6);
  const two = (n: number) => String(n).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  const rest = `${hours > 0 ? two(Math.floor((whole % 3600) / 60)) : Math.floor(whole / 60)}:${two(whole % 60)}`;
  return hours > 0 ? `${hours}:${rest}` : rest;
}
