/**
 * What was measured at the end of cutters, against what had been planned for them: the next estimate goes by it.
 *
 * Minutes are the machine's, whatever the cutter: one ratio of true to planned minutes over all cutters that
 * somebody timed. Metres are the cutter's own: the mean life of worn-out cutters of its name, in the measure of
 * life figures (as of sheets of 2–3 mm).
 */
import { counted, type Ledger, NOTHING_CUT, type Total, withCut } from "./ledger.ts";

export interface Feedback {
  /** True over planned; absent where nobody measured. */
  readonly minutesRatio?: number | undefined;
  readonly minutesFrom: number;
  /** Mean life by cutter, and how many it stands on. */
  readonly lives: ReadonlyMap<string, { readonly metres: number; readonly from: number }>;
  /** What the cutter in use has behind it, wearMetres. */
  readonly worn: ReadonlyMap<string, number>;
}

export const NO_FEEDBACK: Feedback = { minutesFrom: 0, lives: new Map(), worn: new Map() };

interface Timed {
  planned: number;
  measured: number;
  from: number;
}

export function feedbackOf(ledger: Ledger): Feedback {
  const running = new Map<string, Total>();
  const timed: Timed = { planned: 0, measured: 0, from: 0 };
  const lives = new Map<string, number[]>();
  for (const r of counted(ledger.records)) {
    const total = running.get(r.cutter) ?? NOTHING_CUT;
    if (r.kind === "cut") {
      running.set(r.cutter, withCut(total, r));
      continue;
    }
    running.set(r.cutter, NOTHING_CUT);
    if (r.trueMinutes !== undefined && r.trueMinutes > 0 && total.seconds > 0) {
      timed.planned += total.seconds / 60;
      timed.measured += r.trueMinutes;
      timed.from++;
    }
    if (r.trueMetres !== undefined && r.trueMetres > 0) {
      lives.set(r.cutter, [...(lives.get(r.cutter) ?? []), r.trueMetres * weightOf(total)]);
    }
  }
  return {
    minutesRatio: timed.from > 0 ? timed.measured / timed.planned : undefined,
    minutesFrom: timed.from,
    lives: new Map([...lives].map(([cutter, list]) => [cutter, meanOf(list)])),
    worn: new Map([...running].map(([cutter, total]) => [cutter, total.wearMetres])),
  };
}

/** True metres are of edge as it was; the sheets that the cutter cut say what they count. */
function weightOf(total: Total): number {
  return total.edgeMetres > 0 ? total.wearMetres / total.edgeMetres : 1;
}

function meanOf(list: readonly number[]): { metres: number; from: number } {
  return { metres: list.reduce((a, b) => a + b, 0) / list.length, from: list.length };
}

export function minutesAssumption({ minutesRatio, minutesFrom }: Feedback): readonly string[] {
  if (minutesRatio === undefined) return [];
  return [
    `Times are ${minutesRatio.toFixed(2)} times the reckoned ones, as measured at the end of ${minutesFrom} cutter${minutesFrom === 1 ? "" : "s"}.`,
  ];
}
