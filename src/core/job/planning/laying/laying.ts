/**
 * Plates on sheets, as the job wants them. With a second thread its searches begin there before the plates are checked, and
 * this one goes on with what it can do until they are back.
 */
import { COLLET_RADIUS, type Cutter, effectiveDiameter } from "../../../cutting/cutter.ts";
import type { Outcome } from "../../../finding/finding.ts";
import { type Sheet, type SheetLayout, thicknessOf } from "../../../layout/layout.ts";
import { beginLayout, type StartSearch, searchHere } from "../../../layout/place.ts";
import { foundAgain, sendable } from "../../../layout/search/sheets/sent.ts";
import type { Job } from "../../job.ts";
import type { SearchJson } from "../../plan-json.ts";
import { type Errand, HERE, type Runner } from "../../work/errands.ts";
import { keyOf, type PlanMemory } from "../../work/memory.ts";
import type { Gathered } from "../gather.ts";
import { type LayoutWish, searching } from "./search.ts";

export interface LaidOut extends Outcome<readonly SheetLayout[]> {
  readonly search: SearchJson;
}

export interface LayHow {
  readonly layout?: LayoutWish | undefined;
  readonly memory: PlanMemory;
  readonly elsewhere: Runner;
  readonly say: (stage: string) => void;
}

export interface Laying {
  readonly finish: () => LaidOut;
  /** Would `finish` have to wait for places that are looked for elsewhere? */
  readonly isOut: () => boolean;
}

export function beginLaying(
  job: Job,
  { sheets: asked, orders }: Gathered,
  { layout: wish = {}, memory, elsewhere, say }: LayHow,
): Laying {
  const widestCutter = Math.max(...job.cutters.filter(goesRound).map(effectiveDiameter), 0);
  const sheets = asked.map((sheet) => withColletRoom(sheet, job));
  const search = searching(wish, say);
  const out: Errand<unknown>[] = [];
  const begin = (): (() => LaidOut) => {
    const starting = startingFor(elsewhere, out);
    const { options } = search;
    const lay = beginLayout({ sheets, plates: orders, widestCutter, search: options, starting });
    return () => {
      const { value, findings } = lay();
      return { value, findings: [...findings, ...search.findings()], search: search.json() };
    };
  };
  // Where all is done here, not before it is known that it has to be done.
  const begun = elsewhere === HERE ? undefined : begin();
  const key = (): string =>
    keyOf(
      sheets,
      orders.map(({ plate, ...order }) => [memory.id(plate), order]),
      widestCutter,
      wish.effort,
      wish.seed,
    );
  // What a clock cut short might come out better the next time.
  const lasting = (made: LaidOut): boolean => !made.search.endedEarly;
  return {
    finish: () => memory.recall("layout", key, () => (begun ?? begin())(), lasting),
    isOut: () => out.some((errand) => errand.isOut()),
  };
}

/**
 * A cutter that stands out too little for its depth takes the collet down among the clamps, which may be as high as
 * clearance: plates then lie so far off that the nut passes them on its way round.
 */
function withColletRoom(sheet: Sheet, { cutters, cutting }: Job): Sheet {
  const deepest = thicknessOf(sheet) + cutting.throughDepth;
  const low = cutters.filter((c) => goesRound(c) && c.overhang - deepest < cutting.clearance);
  if (low.length === 0 || sheet.keepOuts.length === 0) return sheet;
  const way = Math.max(...low.map(effectiveDiameter)) / 2 + cutting.finish.stock;
  return { ...sheet, keepOutRoom: way + COLLET_RADIUS + COLLET_SPARE };
}

/** Rounding of coordinates, and more than that, mm. */
const COLLET_SPARE = 0.1;

function goesRound(cutter: Cutter): boolean {
  return cutter.kind !== "drill";
}

/** What takes long stays here: it tells how far it is, and ends when it is told to. */
function startingFor(elsewhere: Runner, out: Errand<unknown>[]): StartSearch {
  return (task) => {
    const { items, options } = task;
    if (items.length === 0 || options.effort !== "quick") return searchHere(task);
    const sent = sendable(task);
    const errand = elsewhere("search", sent, () => undefined);
    out.push(errand);
    return () => {
      const found = errand.fetch();
      return found === undefined ? searchHere(task)() : foundAgain(sent, found);
    };
  };
}
