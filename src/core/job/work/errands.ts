/**
 * Work that a plan can have done elsewhere meanwhile: what it does not wait for, cut from plain data alone.
 *
 * A shell may give a `Runner` that hands errands to another thread. Which thread does them changes no bit of
 * what comes back, so it changes none of the plan.
 */
import {
  type CutSheet,
  type Offcut,
  type OffcutOptions,
  offcutsOf,
} from "../../layout/offcut/offcut.ts";
import { type SentFound, type SentSearch, searchSent } from "../../layout/search/sheets/sent.ts";
import type { MovesChecks } from "../../proof/moves.ts";
import { checkSent, type SentMoves } from "../../proof/sent.ts";

export interface Errands {
  /** Places on the sheets of one kind. */
  readonly search: {
    readonly asks: SentSearch;
    readonly answers: SentFound;
  };
  readonly offcuts: {
    readonly asks: CutSheet & { readonly options: OffcutOptions };
    readonly answers: readonly Offcut[];
  };
  /** The checks that go along with the moves, of one sheet: half of a proof. */
  readonly moves: {
    readonly asks: SentMoves;
    readonly answers: MovesChecks;
  };
}

export type ErrandKind = keyof Errands;

/** Sends an errand; what comes back fetches its answer, and waits where it must. */
export type Runner = <K extends ErrandKind>(
  kind: K,
  asks: Errands[K]["asks"],
) => () => Errands[K]["answers"];

const DOING: { readonly [K in ErrandKind]: (asks: Errands[K]["asks"]) => Errands[K]["answers"] } = {
  search: searchSent,
  offcuts: ({ options, ...cut }) => offcutsOf(cut, options),
  moves: checkSent,
};

export function runErrand<K extends ErrandKind>(
  kind: K,
  asks: Errands[K]["asks"],
): Errands[K]["answers"] {
  return DOING[kind](asks);
}

/** Everything here, when it is fetched. */
export const HERE: Runner = (kind, asks) => () => runErrand(kind, asks);
