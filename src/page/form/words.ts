/** Words of the form, made of the job file's own keys and its schema: who reads the form can read the file. */
import type { SchemaNode } from "../../core/job/json-schema.ts";

/** Keys that read badly when they are only taken apart. */
const LABELS: Readonly<Record<string, string>> = {
  fibreDeg: "Fibre direction",
  rampDeg: "Ramp",
  hop: "Hop over whole sheet",
  order: "Order of cuts",
  at: "Place",
  z: "Z0 is",
  perHour: "Per hour",
  lifeMetres: "Life",
  powerW: "Power",
  spinUpS: "Spin-up",
  size: "Size, X × Y",
  travel: "Travel, X × Y × Z",
  maxFeed: "Fastest feed, X × Y × Z",
  acceleration: "Acceleration, X × Y × Z",
  axisScale: "Axis scale, X × Y",
  min: "Slowest",
  max: "Fastest",
  least: "Fewest",
  sAtMax: "S at full speed",
  start: "Started",
  handS: "Time to start it",
  percentLines: "Between lines of %",
  arcs: "Takes G2 and G3",
  repeatMotion: "Repeat G1 on every line",
};

const UNITS: Readonly<Record<string, string>> = { degrees: "°", number: "" };

export function labelOf(key: string): string {
  const known = LABELS[key];
  if (known !== undefined) return known;
  const words = key.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function unitOf(node: SchemaNode): string {
  const unit = node.unit ?? node.prefixItems?.[0]?.unit ?? "";
  return UNITS[unit] ?? unit;
}

/** `0.1 to 25`, from what the schema lets pass. */
export function rangeOf(node: SchemaNode): string {
  const one = node.prefixItems?.[0] ?? node;
  const { minimum, exclusiveMinimum, maximum } = one;
  const low = minimum ?? exclusiveMinimum;
  const huge = (n: number | undefined): boolean => n === undefined || Math.abs(n) > 1e12;
  if (huge(low) && huge(maximum)) return "";
  const from = huge(low) ? "" : exclusiveMinimum === undefined ? `${low}` : `above ${low}`;
  if (huge(maximum)) return minimum === undefined ? from : `${from} or more`;
  return from === "" ? `up to ${maximum}` : `${from} to ${maximum}`;
}

/** What stands for a key that the file leaves out. */
export function defaultOf(node: SchemaNode): string {
  const { default: value } = node as { readonly default?: unknown };
  return value === undefined || typeof value === "object" ? "" : String(value);
}

/** A number as people type it, a decimal comma too; else the text, which the core has something to say of. */
export function typed(text: string): unknown {
  const plain = text.trim();
  if (plain === "") return undefined;
  const number = Number(plain.replace(/^(-?\d+),(\d+)$/, "$1.$2"));
  return Number.isFinite(number) ? number : plain;
}
