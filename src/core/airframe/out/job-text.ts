/**
 * The job that cuts an airframe's plates, as YAML text that a person can go on editing.
 *
 * Promise: reads back, by any YAML 1.2 reader, as the values that were given.
 */
import type { AirframePlate } from "../model.ts";

export interface JobParts {
  readonly name: string;
  /** The airframe file's own keys, without `weftcut`, `airframe` and `name`. */
  readonly rest: Readonly<Record<string, unknown>>;
  readonly plates: readonly AirframePlate[];
  /** For the checks of what propellers pass. */
  readonly props: Readonly<Record<string, unknown>>;
}

/** Drawings are looked for beside the job. */
export function drawingOf(plate: AirframePlate): string {
  return `${plate.name}.dxf`;
}

export function jobText({ name, rest, plates, props }: JobParts): string {
  const used = new Set(plates.map((p) => p.sheet));
  const lines = [
    `# The plates of ${name}, drawn by weftcut. Written anew by every draft: change the airframe file instead.`,
    "weftcut: 1",
    `name: ${flow(name)}`,
  ];
  for (const [key, value] of Object.entries(rest)) {
    if (key === "weftcut" || key === "name" || value === undefined) continue;
    lines.push("", ...block(key, key === "sheets" ? sheetsUsed(value, used) : value));
  }
  if (rest["props"] === undefined) lines.push("", ...block("props", props));
  lines.push("", ...block("plates", plates.map(plateJson)));
  return `${lines.join("\n")}\n`;
}

/** A sheet that no plate is cut from would be remarked on by the job. */
function sheetsUsed(value: unknown, used: ReadonlySet<string>): unknown {
  return Array.isArray(value) ? value.filter((s) => used.has(String(Object(s).name))) : value;
}

function plateJson(p: AirframePlate): Record<string, unknown> {
  return {
    name: p.name,
    drawing: drawingOf(p),
    units: "mm",
    sheet: p.sheet,
    ...(p.stands.length === 1 ? {} : { count: p.stands.length }),
    ...(p.fibreDeg === undefined ? {} : { fibreDeg: p.fibreDeg }),
    points: p.points.map(({ name, at }) => ({ name, at: [tidy(at.x), tidy(at.y)] })),
    ...(p.mates.length === 0
      ? {}
      : {
          mates: p.mates.map((m) => ({
            slot: [tidy(m.slot.x), tidy(m.slot.y)],
            of: m.of,
            clearance: m.clearance,
          })),
        }),
  };
}

export function tidy(v: number): number {
  return Number(v.toFixed(4)) + 0;
}

/** A key and its value; lists one item a line, everything below that on it. */
function block(key: string, value: unknown): string[] {
  if (Array.isArray(value) && value.length > 0) {
    return [`${key}:`, ...value.map((item) => `  - ${flow(item)}`)];
  }
  return [`${key}: ${flow(value)}`];
}

function flow(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flow).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const pairs = Object.entries(value).filter(([, v]) => v !== undefined);
    return `{ ${pairs.map(([k, v]) => `${word(k)}: ${flow(v)}`).join(", ")} }`;
  }
  return typeof value === "string" ? word(value) : JSON.stringify(value);
}

/** Words that YAML would take for something else, or that end a flow, are quoted. */
function word(text: string): string {
  const plain = /^[A-Za-z_][\w./ -]*$/.test(text) && !/\s$|:$| #/.test(text);
  const special = /^(true|false|null|yes|no|on|off|y|n)$/i.test(text);
  return plain && !special ? text : JSON.stringify(text);
}
