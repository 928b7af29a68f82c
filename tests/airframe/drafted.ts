/** Drafts and what tests look at in them. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";
import { type Drafted, draftAirframe } from "../../src/core/airframe/draft.ts";
import type { AirframePlate } from "../../src/core/airframe/model.ts";
import { runChecks } from "../../src/core/check/run.ts";
import { readDrawing } from "../../src/core/drawing/read.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { signedArea } from "../../src/core/geometry/contour.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { gather } from "../../src/core/job/planning/gather.ts";
import type { Sheet } from "../../src/core/layout/layout.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { recognise } from "../../src/core/plate/recognise.ts";

export const FOLDER: string = fileURLToPath(new URL("../../fixtures/airframes/", import.meta.url));
export const PRESETS: readonly string[] = readdirSync(FOLDER)
  .filter((f) => f.endsWith(".yaml"))
  .sort();

export function presetText(name: string): string {
  return readFileSync(join(FOLDER, name), "utf8");
}

export function draftText(text: string): Drafted {
  return draftAirframe({ name: "airframe.yaml", text }, (file) => {
    try {
      return readFileSync(join(FOLDER, file));
    } catch {
      return undefined;
    }
  });
}

/** A preset as plain data to change; `sheet` finds one of its sheets. */
// biome-ignore lint/suspicious/noExplicitAny: a file's content, to be changed at will.
export function presetData(name: string): any {
  return parse(presetText(name));
}

export function draftData(data: unknown): Drafted {
  return draftText(JSON.stringify(data));
}

export function plateOf(d: Drafted, name: string): AirframePlate {
  const plate = d.airframe?.plates.find((p) => p.name === name);
  if (plate === undefined) throw new Error(`no plate "${name}": ${JSON.stringify(d.findings)}`);
  return plate;
}

export function netArea(p: AirframePlate): number {
  return [p.outer, ...p.cutouts.map((c) => c.contour)].reduce((s, c) => s + signedArea(c), 0);
}

/** What a drawing of a draft reads back as. */
export function readBack(d: Drafted, file: string): { plates: Plate[]; problems: string[] } {
  const text = d.files.get(file);
  if (text === undefined) throw new Error(`no file ${file}`);
  const bytes = typeof text === "string" ? new TextEncoder().encode(text) : text;
  const drawing = readDrawing(file, bytes, {});
  const { value, findings } = recognise(drawing, file.replace(/\.[a-z]+$/, ""));
  const all = [...drawing.repairs, ...drawing.findings, ...findings];
  return {
    plates: value,
    problems: all.filter((f) => f.severity !== "note").map((f) => `${f.code}: ${f.message}`),
  };
}

export function stopsOf(d: Drafted): string[] {
  return d.findings.filter((f) => f.severity === "stop").map((f) => `${f.code}: ${f.message}`);
}

/** The job and the drawings that were written, as the checks want them. */
function written(d: Drafted) {
  const text = String(d.files.get("job.yaml"));
  const job = parseJob({ name: "job.yaml", text }, () => undefined).value;
  if (job === undefined) throw new Error("the job does not read");
  const read = (file: string) => new TextEncoder().encode(String(d.files.get(file)));
  const { sheets, orders, findings } = gather(job, read);
  const plates = orders.map((o) => {
    const sheet = sheets.find((s) => s.name === o.sheet) as Sheet;
    return { plate: o.plate, sheet, count: o.count, fibreDeg: o.fibreDeg };
  });
  const { cutters, machine, cutting, props } = job;
  const input = { plates, sheets, cutters, machine, cutting, propellers: props };
  return { orders, input, findings };
}

/** What the checks of the plates say. */
export function checkedPlates(d: Drafted): readonly Finding[] {
  const { input, findings } = written(d);
  return [...findings, ...runChecks(input)];
}

/** And of their layout. */
export function checkedLayout(d: Drafted): readonly Finding[] {
  const { input, orders } = written(d);
  const widestCutter = Math.max(...input.cutters.map((c) => c.diameter));
  const laid = layPlates({ sheets: input.sheets, plates: orders, widestCutter });
  return [...laid.findings, ...runChecks({ ...input, layouts: laid.value })];
}

/** A contour's shape as text, to see whether it changed. */
export function shapeText(c: Contour): string {
  return c.segments
    .map((s) => {
      const to = `${s.to.x.toFixed(3)},${s.to.y.toFixed(3)}`;
      return s.kind === "line" ? to : `${to}~${s.radius.toFixed(3)}${s.sweep > 0 ? "+" : "-"}`;
    })
    .join(" ");
}
