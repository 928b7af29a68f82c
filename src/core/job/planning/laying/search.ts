/**
 * How the layout's search is asked for, and what the plan says of it.
 */
import type { Finding } from "../../../finding/finding.ts";
import { reporter } from "../../../finding/finding.ts";
import { sayLayout } from "../../../finding/say-layout.ts";
import type { Effort, SearchOptions } from "../../../layout/search/sheets/effort.ts";
import { QUICK_STEPS } from "../../../toolpath/order.ts";
import type { SearchJson } from "../../plan-json.ts";

export interface LayoutWish {
  readonly effort?: Effort | undefined;
  readonly seed?: number | undefined;
  /** True once the best layout so far must do: the shell's clock, or its user. */
  readonly over?: (() => boolean) | undefined;
}

export interface Searching {
  readonly options: SearchOptions;
  /** For plan.json, once the search is done. */
  readonly json: () => SearchJson;
  readonly findings: () => Finding[];
}

export const SEED = 1;

/**
 * Steps of the order, for each cut. What the quick one finds is within a hundredth of what the long one does (demo and
 * bench).
 */
const ORDER_STEPS: Readonly<Record<Effort, number>> = {
  quick: QUICK_STEPS,
  normal: 20 * QUICK_STEPS,
  long: 100 * QUICK_STEPS,
};

export function orderSteps({ effort = "quick" }: LayoutWish): number {
  return ORDER_STEPS[effort];
}

const report = reporter(sayLayout);

/** Quick where nothing is asked for. */
export function searching(wish: LayoutWish, say: (stage: string) => void): Searching {
  const { effort = "quick", seed = SEED } = wish;
  let endedEarly = false;
  const over = (): boolean => {
    if (wish.over?.() === true) endedEarly = true;
    return endedEarly;
  };
  return {
    options: {
      effort,
      seed,
      ...(wish.over === undefined ? {} : { over }),
      progress: ({ sheet, share, sheets, missing }) => {
        const left = missing === 0 ? "" : `, ${missing} plates without a place`;
        say(`laying out ${sheet}: ${Math.round(100 * share)} %, ${sheets} in use${left}`);
      },
    },
    json: () => ({ effort, seed, endedEarly }),
    findings: () => (endedEarly ? [report("search-ended-early", {})] : []),
  };
}

/** Seconds after which a search ends though its steps are not done: a machine five times slower than most. */
const CEILING: Readonly<Record<Effort, number>> = { quick: 5, normal: 60, long: 360 };

/** For `over`, by the shell's clock in ms, from when it is first asked: drawings are read by then. */
export function searchCeiling(effort: Effort, now: () => number): () => boolean {
  let end: number | undefined;
  return () => {
    end ??= now() + 1000 * CEILING[effort];
    return now() > end;
  };
}
