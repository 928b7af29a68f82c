/**
 * A search as plain data, to have it made elsewhere: what it found names its items and spots by their numbers, so that
 * they are found again among those that were sent.
 */
import type { Nested } from "../../fixed.ts";
import type { Spot } from "../../pack.ts";
import type { Item } from "../../riders.ts";
import type { SearchOptions } from "./effort.ts";
import { type SheetTask, searchSheets } from "./search.ts";
import type { SheetsFound } from "./start.ts";

/** Without the clock and without word of how far it is: it ends when its steps are done. */
export interface SentSearch extends Omit<SheetTask, "options"> {
  readonly options: Omit<SearchOptions, "over" | "progress">;
}

export interface SentFound {
  /** What was placed, and the number of its item in the task. */
  readonly spots: readonly (Omit<Spot, "item"> & { readonly item: number })[];
  /** Numbers of spots. */
  readonly sheets: readonly (readonly number[])[];
  /** Numbers of spots, those that the task has fixed before the others. */
  readonly nested: readonly {
    readonly spot: number;
    readonly host: number;
    readonly feature: number;
  }[];
  /** Numbers of items. */
  readonly missing: readonly number[];
  readonly steps: number;
}

export function sendable({ options, ...task }: SheetTask): SentSearch {
  const { over: _over, progress: _progress, ...plain } = options;
  return { ...task, options: plain };
}

export function searchSent(task: SentSearch): SentFound {
  const { sheets, nested, missing, steps } = searchSheets(task);
  const numberOf = new Map(task.items.map((item, i) => [item, i]));
  const spots = sheets.flat();
  const all = new Map([...task.fixed, ...spots].map((spot, i) => [spot, i]));
  const before = task.fixed.length;
  return {
    spots: spots.map(({ item, ...spot }) => ({ ...spot, item: numberOf.get(item) as number })),
    sheets: sheets.map((own) => own.map((spot) => (all.get(spot) as number) - before)),
    nested: nested.map(({ spot, host, feature }) => ({
      spot: all.get(spot) as number,
      host: all.get(host) as number,
      feature,
    })),
    missing: missing.map((item) => numberOf.get(item) as number),
    steps,
  };
}

export function foundAgain({ items, fixed }: SentSearch, found: SentFound): SheetsFound {
  const spots = found.spots.map((spot): Spot => ({ ...spot, item: items[spot.item] as Item }));
  const all = [...fixed, ...spots];
  return {
    sheets: found.sheets.map((own) => own.map((n) => spots[n] as Spot)),
    nested: found.nested.map(({ spot, host, feature }): Nested => {
      return { spot: all[spot] as Spot, host: all[host] as Spot, feature };
    }),
    missing: found.missing.map((n) => items[n] as Item),
    steps: found.steps,
  };
}
