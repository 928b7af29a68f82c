/**
 * A job for drawings that have none yet: each becomes a plate, and sheet, cutter and machine are figures to begin
 * with, marked as such in the text until somebody has put in the true ones.
 *
 * Promise: reads back without a stop of the job file's own.
 */

/** Stands over what is not known yet; whoever has set it takes the line out. */
export const TO_SET: string = "# To be set: these are figures to begin with, not those of yours.";

export function startJob(name: string, drawings: readonly string[]): string {
  const taken = new Set<string>();
  const plates = drawings.map((file) => {
    const plate = plateOf(file, "sheet-2", taken);
    taken.add(plate.name);
    return `  - ${flow(plate)}`;
  });
  return `weftcut: 1
name: ${JSON.stringify(name)}

sheets:
  ${TO_SET}
  - name: sheet-2
    material: carbon-woven
    thickness: 2
    size: [300, 200]
    fibreDeg: 0
    margin: 8

plates:
${plates.join("\n")}

cutters:
  ${TO_SET}
  - name: router-2
    kind: diamond-router
    diameter: 2
    fluteLength: 8
    overhang: 14

machine:
  ${TO_SET}
  name: my router
  travel: [300, 200, 60]
  maxFeed: [3000, 3000, 1000]
  acceleration: [200, 200, 100]
  spindle: { min: 8000, max: 24000, powerW: 400, spinUpS: 8 }
`;
}

/** A plate's entry for a drawing, named after its file. */
export function plateOf(
  file: string,
  sheet: string,
  taken: ReadonlySet<string>,
): { readonly name: string; readonly drawing: string; readonly sheet: string } {
  const base = file.split(/[\\/]/).at(-1) ?? file;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: names have none.
  const stem = base.replace(/\.[^.]*$/, "").replace(/[\u0000-\u001f\u007f]/g, " ");
  const own = stem.trim().slice(0, 70) || "plate";
  let name = own;
  for (let n = 2; taken.has(name); n++) name = `${own} ${n}`;
  return { name, drawing: file, sheet };
}

function flow(plate: Readonly<Record<string, string>>): string {
  const pairs = Object.entries(plate).map(([key, value]) => `${key}: ${JSON.stringify(value)}`);
  return `{ ${pairs.join(", ")} }`;
}
