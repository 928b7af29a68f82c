/**
 * Work that a plan can have done elsewhere meanwhile: what it does not wait for, cut from plain data alone.
 *
 * A shell may give a `Runner` that hands errands to another thread. Which thread does them changes no bit of
 * what comes back, so it changes none of the plan.
 */
import type { CutSheet, Offcut, OffcutOptions } from "../../layout/offcut/offcut.ts";
import type { SentFound, SentSearch } from "../../layout/search/sheets/sent.ts";
import type { CuttingChecks } from "../../proof/checks/cutting.ts";
import type { MovesChecks } from "../../proof/moves.ts";
import type { SentMoves } from "../../proof/sent.ts";

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
  /** The checks that follow the stock from cut to cut, of one sheet: half of a proof. */
  readonly stock: {
    readonly asks: SentMoves;
    readonly answers: CuttingChecks;
  };
  /** The others that go along with the moves, of one sheet. */
  readonly moves: {
    readonly asks: SentMoves;
    readonly answers: MovesChecks;
  };
}

export type ErrandKind = keyof Errands;

export interface Errand<A> {
  /** Waits where it must. */
  readonly fetch: () => A;
  /** Would `fetch` have to wait? */
  readonly isOut: () => boolean;
}

/** Sends an errand. `here` is what is done instead where nobody has begun it by the time it is fetched. */
export type Runner = <K extends ErrandKind, H>(
  kind: K,
  asks: Errands[K]["asks"],
  here: () => H,
) => Errand<Errands[K]["answers"] | H>;

/** Everything here, when it is fetched. */
export const HERE: Runner = (_kind, _asks, here) => ({ fetch: here, isOut: () => false });
