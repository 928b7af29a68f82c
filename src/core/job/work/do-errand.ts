/** An errand done, where it was sent to. */
import { offcutsOf } from "../../layout/offcut/offcut.ts";
import { searchSent } from "../../layout/search/sheets/sent.ts";
import { checkMoves, checkStock, movesOf } from "../../proof/moves.ts";
import { received } from "../../proof/sent.ts";
import type { ErrandKind, Errands } from "./errands.ts";

const DOING: { readonly [K in ErrandKind]: (asks: Errands[K]["asks"]) => Errands[K]["answers"] } = {
  search: searchSent,
  offcuts: ({ options, ...cut }) => offcutsOf(cut, options),
  stock: (sent) => checkStock(received(sent)),
  moves: (sent) => checkMoves(movesOf(received(sent))),
};

export function doErrand<K extends ErrandKind>(
  kind: K,
  asks: Errands[K]["asks"],
): Errands[K]["answers"] {
  return DOING[kind](asks);
}
