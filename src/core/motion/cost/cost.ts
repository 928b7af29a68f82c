/**
 * What a job costs, plate by plate: sheet, machine time, cutters, set-up.
 *
 * The sheet is shared out by plate area. What is left as an offcut gives back part of its price; the rest of
 * the waste is carried by the plates of that sheet. Cutter cost follows the plate's metres of edge where they
 * are known, else its seconds. Set-up is shared equally over the copies. Prices in the job's currency.
 *
 * Promise: the plates' costs add up to the set's.
 */
export interface CostPlate {
  readonly plate: string;
  readonly copy: number;
  readonly sheet: string;
  /** mm². */
  readonly area: number;
  /** Machine time that is this plate's own. */
  readonly seconds: number;
  /** By cutter: share of its life that this plate uses. */
  readonly lifeUsed: readonly { readonly cutter: string; readonly share: number }[];
}

export interface CostSheet {
  readonly name: string;
  readonly price?: number | undefined;
  /** mm². */
  readonly area: number;
  /** Usable again, mm²; 0 where not known. */
  readonly offcutArea: number;
}

export interface CostCutter {
  readonly name: string;
  readonly price?: number | undefined;
}

export interface CostInput {
  readonly plates: readonly CostPlate[];
  readonly sheets: readonly CostSheet[];
  readonly cutters: readonly CostCutter[];
  readonly perHour: number;
  readonly currency: string;
  /** Machine time of the whole job; what no plate owns is shared by the plates' seconds. */
  readonly seconds: number;
  /** Minutes at the machine before the first program. */
  readonly setupMinutes: number;
  /** Share of its area price that an offcut is worth. */
  readonly offcutValue: number;
}

export interface PlateCost {
  readonly plate: string;
  readonly copy: number;
  readonly sheet: number;
  readonly machine: number;
  readonly cutter: number;
  readonly setup: number;
  readonly total: number;
}

export interface JobCost {
  readonly plates: readonly PlateCost[];
  readonly sheet: number;
  readonly machine: number;
  readonly cutter: number;
  readonly setup: number;
  readonly total: number;
  readonly currency: string;
  readonly assumptions: readonly string[];
}

export function costOf(input: CostInput): JobCost {
  const sheetCosts = new Map(input.sheets.map((sheet) => [sheet.name, sheetCost(sheet, input)]));
  const areas = sums(
    input.plates,
    (p) => p.sheet,
    (p) => p.area,
  );
  const owned = input.plates.reduce((sum, p) => sum + p.seconds, 0);
  const setup = (input.setupMinutes / 60) * input.perHour;
  const prices = new Map(input.cutters.map((c) => [c.name, c.price ?? 0]));
  const even = 1 / input.plates.length;
  const plates = input.plates.map((p): PlateCost => {
    const part = share(p.area, areas.get(p.sheet) ?? 0, even);
    const sheet = (sheetCosts.get(p.sheet) ?? 0) * part;
    const machine = (input.seconds / 3600) * input.perHour * share(p.seconds, owned, even);
    const cutter = p.lifeUsed.reduce((sum, l) => sum + l.share * (prices.get(l.cutter) ?? 0), 0);
    const own = setup * even;
    const costs = { sheet, machine, cutter, setup: own, total: sheet + machine + cutter + own };
    return { plate: p.plate, copy: p.copy, ...costs };
  });
  const total = (of: (p: PlateCost) => number): number => plates.reduce((sum, p) => sum + of(p), 0);
  return {
    plates,
    sheet: total((p) => p.sheet),
    machine: total((p) => p.machine),
    cutter: total((p) => p.cutter),
    setup: total((p) => p.setup),
    total: total((p) => p.total),
    currency: input.currency,
    assumptions: assumptionsOf(input),
  };
}

/** Price less what the offcut is worth. */
function sheetCost(sheet: CostSheet, input: CostInput): number {
  const kept = sheet.area > 0 ? Math.min(1, Math.max(0, sheet.offcutArea / sheet.area)) : 0;
  return (sheet.price ?? 0) * (1 - kept * input.offcutValue);
}

function share(part: number, whole: number, even: number): number {
  return whole > 0 ? part / whole : even;
}

function sums<T>(
  items: readonly T[],
  key: (item: T) => string,
  value: (item: T) => number,
): Map<string, number> {
  const found = new Map<string, number>();
  for (const item of items) found.set(key(item), (found.get(key(item)) ?? 0) + value(item));
  return found;
}

function assumptionsOf(input: CostInput): readonly string[] {
  const unpriced = [
    ...input.sheets.filter((s) => s.price === undefined).map((s) => `sheet ${s.name}`),
    ...input.cutters.filter((c) => c.price === undefined).map((c) => `cutter ${c.name}`),
  ];
  const offcut = Math.round(input.offcutValue * 100);
  return [
    `Machine time at ${input.perHour} ${input.currency} an hour.`,
    `Set-up of ${input.setupMinutes} min at the same rate, shared by the plates (quotes take 15–30 min: common practice, no source).`,
    `An offcut gives back ${offcut} % of its area's price (what it is worth is your guess; a half is common practice, no source).`,
    "What is left of a sheet's price is shared out by plate area, cutters by the share of their life.",
    ...(unpriced.length === 0
      ? []
      : [`No price known, counted as nothing: ${unpriced.join(", ")}.`]),
  ];
}
