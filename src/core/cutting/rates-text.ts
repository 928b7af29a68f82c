/** Rates as JSON for other programs, and as a table for people. */
import type { Cutter, RateMaterial, RateStep, Rates } from "./cutter.ts";

export interface RatesJson {
  readonly material: RateMaterial;
  readonly cutter: Cutter;
  readonly rpm: number;
  readonly feed: number;
  readonly feedPerRev: number;
  readonly surfaceSpeed: number;
  readonly passDepth: number;
  readonly plungeFeed: number;
  readonly rampFeed: number;
  readonly finishFeed: number;
  readonly deflectionMm: number;
  readonly powerW: number;
  readonly limitedBy: string;
  readonly passes: NonNullable<Rates["passes"]>;
  readonly steps: readonly RateStep[];
}

export function ratesJson(material: RateMaterial, cutter: Cutter, rates: Rates): RatesJson {
  return {
    material,
    cutter,
    rpm: rates.rpm,
    feed: rates.feed,
    feedPerRev: rates.feedPerRev,
    surfaceSpeed: rates.surfaceSpeed,
    passDepth: rates.passDepth,
    plungeFeed: rates.plungeFeed,
    rampFeed: rates.rampFeed,
    finishFeed: rates.finishFeed,
    deflectionMm: rates.deflectionMm,
    powerW: rates.powerW,
    limitedBy: rates.limitedBy,
    // What has no bound has none in JSON either: a depth of the whole flute is already the flute's length.
    passes: (rates.passes ?? []).map((pass) => ({ ...pass })),
    steps: rates.steps,
  };
}

/** Three significant digits, no exponent; speeds and feeds whole. */
function figure(value: number): string {
  if (value === 0 || !Number.isFinite(value)) return String(value);
  if (Math.abs(value) >= 100) return String(Math.round(value));
  const decimals = Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 4;
  return String(Number(value.toFixed(decimals)));
}

/** The chart's footnotes in substance (SGS catalogue p. 13). */
const NOTES: readonly string[] = [
  "Depths are maxima. Where the resin overheats: less speed. Where the edge frays or splits: less feed.",
  "Power, force, deflection and stress are estimates: they stand on a planning value of specific energy.",
];

export function ratesText(material: RateMaterial, cutter: Cutter, rates: Rates): string {
  const head = [
    `${cutter.name}: ${cutter.kind} Ø${cutter.diameter} in ${material}`,
    `  spindle ${figure(rates.rpm)} rpm, feed ${figure(rates.feed)} mm/min (${figure(rates.feedPerRev)} mm/rev), pass depth ${figure(rates.passDepth)} mm`,
    `  ramp ${figure(rates.rampFeed)}, plunge ${figure(rates.plungeFeed)}, finishing ${figure(rates.finishFeed)} mm/min`,
    `  about ${figure(rates.powerW)} W, deflection ${figure(rates.deflectionMm)} mm; limited by: ${rates.limitedBy}`,
  ];
  const rows = rates.steps.map((s) => [
    s.quantity,
    `${figure(s.value)} ${s.unit}`,
    s.formula,
    s.source,
  ]);
  const passes = (rates.passes ?? []).map(
    (p) =>
      `  ${p.operation}: ${figure(p.feedPerRev)} mm/rev, ${figure(p.feed)} mm/min, passes of ${figure(p.passDepth)} mm at up to ${figure(p.widest)} wide (limited by: ${p.limitedBy}; the row goes to ${figure(p.deepest)} deep and would run at ${figure(p.wantedRpm)} rpm); about ${figure(p.powerW)} W, bends ${figure(p.deflectionMm)} mm`,
  );
  return [
    ...head,
    "",
    ...table(rows),
    "",
    "Kinds of cut at this spindle speed:",
    ...passes,
    "",
    ...NOTES,
    "",
  ].join("\n");
}

/** Columns padded but for the last two, which stand on a line of their own: sources are long. */
function table(rows: readonly (readonly string[])[]): string[] {
  const width = (column: number): number =>
    rows.reduce((most, row) => Math.max(most, row[column]?.length ?? 0), 0);
  const [w0, w1] = [width(0), width(1)];
  return rows.flatMap(([quantity = "", value = "", formula = "", source = ""]) => [
    `  ${quantity.padEnd(w0)}  ${value.padStart(w1)}  ${formula}`,
    `  ${"".padEnd(w0)}  ${"".padStart(w1)}    ${source}`,
  ]);
}
