/**
 * Plates on sheets: fixed places first, then the rest in rows, and better than in rows where a search is asked for.
 *
 * Words: margin is from a plate to the sheet's edge; gap is between two plates; a keep-out is where a clamp
 * or screw is. All are measured to a plate's contour, so each must hold at least the cutter's kerf.
 *
 * Promise: every copy is placed once or named in a `stop` finding; same input, same layout.
 */

import type { Finding, Outcome } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayLayout } from "../finding/say-layout.ts";
import { signedArea } from "../geometry/contour.ts";
import { type FixedSpots, fixedSpots, type Nested } from "./fixed.ts";
import type { Placement, Sheet, SheetLayout } from "./layout.ts";
import { pack, type Spot, turnedOutlines } from "./pack.ts";
import { placementOf } from "./placed.ts";
import { type Item, itemsOf, type PlateOrder } from "./riders.ts";
import { type Room, roomOf, sizeOf } from "./room.ts";
import { type SearchOptions, stepsFor } from "./search/sheets/effort.ts";
import { sheetNeeded } from "./search/sheets/needed.ts";
import { type SheetTask, searchSheets } from "./search/sheets/search.ts";
import { rowsOn, type SheetsFound } from "./search/sheets/start.ts";

export interface LayInput {
  readonly sheets: readonly Sheet[];
  readonly plates: readonly PlateOrder[];
  /** Effective diameter of the widest cutter of the job, mm. */
  readonly widestCutter: number;
  /** Search beyond rows and boxes. */
  readonly search?: SearchOptions | undefined;
  /** Has searches made elsewhere meanwhile; absent: each is made here when its places are wanted. */
  readonly starting?: StartSearch | undefined;
}

/** Starts a search; what comes back waits for its places. */
export type StartSearch = (task: SheetTask) => () => SheetsFound;

const report = reporter(sayLayout);

/** Two kerfs and a web of 1.5 mm that does not break loose (services ask 1.5–2 mm: common practice, no source). */
export function webGap(widestCutter: number): number {
  return 2 * widestCutter + 1.5;
}

/** One kerf and 1 mm: no sound web stays, but no cut reaches the neighbour. */
export function leastGap(widestCutter: number): number {
  return widestCutter + 1;
}

export function layPlates(input: LayInput): Outcome<SheetLayout[]> {
  return beginLayout(input)();
}

/** Starts the searches of all kinds of sheets; what comes back waits for them. */
export function beginLayout(input: LayInput): () => Outcome<SheetLayout[]> {
  const names = new Set(input.sheets.map((s) => s.name));
  const findings: Finding[] = input.plates
    .filter((order) => !names.has(order.sheet))
    .map((o) =>
      report("sheet-unknown", { plate: o.plate.name, sheet: o.sheet }, { plate: o.plate.name }),
    );
  const { items, findings: riding } = itemsOf(input.plates, input.widestCutter);
  findings.push(...riding);
  const lots = input.sheets.map((sheet) =>
    items.filter((item) => item.members[0]?.order.sheet === sheet.name),
  );
  const free = lots.map((lot) => lot.filter((item) => item.place === undefined));
  const searches = sharedOut(input.search, free);
  const begun = input.sheets.map((sheet, i) => {
    const own = { ...input, search: searches[i] };
    return beginSheets(roomOf(sheet, input.widestCutter), lots[i] ?? [], own);
  });
  return () => {
    // What nobody has begun is looked for here meanwhile: from the last on, since the first are begun first.
    const laid = begun.toReversed().map((finish) => finish());
    laid.reverse();
    return {
      value: laid.flatMap((l) => l.value),
      findings: [...findings, ...laid.flatMap((l) => l.findings)],
    };
  };
}

/**
 * The steps are for the whole job. Each kind of sheet gets its part by how many different plates are to be placed on
 * it: copies of one plate are soon as close as they can be, and nothing comes of changing their places.
 */
function sharedOut(
  search: SearchOptions | undefined,
  lots: readonly (readonly Item[])[],
): (SearchOptions | undefined)[] {
  const different = lots.map((lot) => new Set(lot.map((item) => item.members[0]?.order)).size);
  const all = different.reduce((sum, n) => sum + n, 0);
  if (search === undefined) return lots.map(() => undefined);
  const pieces = lots.reduce((sum, lot) => sum + lot.length, 0);
  const steps = stepsFor(search, pieces);
  return different.map((n) => ({ ...search, steps: Math.ceil((steps * n) / Math.max(1, all)) }));
}

/** What goes on the sheets of one kind. */
interface Lot {
  readonly room: Room;
  /** Without a fixed place. */
  readonly free: readonly Item[];
  readonly fixed: FixedSpots;
}

/** The sheets of one kind that are used, the first in any case. */
function beginSheets(
  room: Room,
  items: readonly Item[],
  input: LayInput,
): () => Outcome<SheetLayout[]> {
  const fixed = fixedSpots(room, items, input.widestCutter);
  const lot = { room, free: items.filter((item) => item.place === undefined), fixed };
  const roomy = layWith(webGap(input.widestCutter), lot, input);
  return () => finishSheets(lot, roomy(), input);
}

function finishSheets(lot: Lot, roomy: SheetsFound, input: LayInput): Outcome<SheetLayout[]> {
  const { room, free, fixed } = lot;
  const { laid, findings } = withWebs(lot, roomy, input);
  const sheets = [laid.sheets[0] ?? [], ...laid.sheets.slice(1)];
  return {
    value: sheets.map((spots, n) => {
      const all = n === 0 ? [...fixed.spots, ...spots] : spots;
      const nested = [...fixed.nested, ...laid.nested].filter((one) => all.includes(one.host));
      return assemble(copyOf(room.sheet, n, input.sheets), all, nested, input.plates);
    }),
    findings: [...fixed.findings, ...findings, ...missing(room, free, laid, input)],
  };
}

/** Sheets of one kind are told apart by their number, from the second on; another kind's name is not taken. */
function copyOf(sheet: Sheet, n: number, sheets: readonly Sheet[]): Sheet {
  if (n === 0) return sheet;
  const name = `${sheet.name} ${n + 1}`;
  const taken = sheets.some((s) => s.name === name);
  return { ...sheet, name: taken ? `${sheet.name} no ${n + 1}` : name };
}

/** Places by rows alone, or by the search that starts from them. */
function layWith(
  gap: number,
  { room, free, fixed }: Lot,
  { search, widestCutter, starting = searchHere }: LayInput,
): () => SheetsFound {
  const copies = room.sheet.count ?? 1;
  const task = { room, items: free, fixed: fixed.spots, leastGap: gap, copies };
  return search === undefined
    ? () => rowsOn(task)
    : starting({ ...task, widestCutter, options: search });
}

/** When its places are wanted. */
export const searchHere: StartSearch = (task) => () => searchSheets(task);

/** With sound webs between all plates, as in `roomy`, if they fit so, else with the gaps that were asked for. */
function withWebs(
  lot: Lot,
  roomy: SheetsFound,
  input: LayInput,
): { laid: SheetsFound; findings: Finding[] } {
  const { room, free } = lot;
  const wanted = webGap(input.widestCutter);
  const raised = free.filter((item) => item.gap < wanted - 1e-9);
  if (roomy.missing.length === 0 || raised.length === 0) {
    const several = roomy.sheets.flat().length > 1;
    return { laid: roomy, findings: several ? raisedGaps(room, raised, wanted) : [] };
  }
  const least = leastGap(input.widestCutter);
  const tighter = layWith(least, lot, { ...input, starting: searchHere })();
  if (tighter.missing.length >= roomy.missing.length) {
    return { laid: roomy, findings: raisedGaps(room, raised, wanted) };
  }
  const used = Math.max(least, Math.min(...raised.map((item) => item.gap)));
  const data = { sheet: room.sheet.name, used, wanted };
  return { laid: tighter, findings: [report("gap-narrow", data, { sheet: room.sheet.name })] };
}

function raisedGaps(room: Room, items: readonly Item[], used: number): Finding[] {
  const orders = new Set(items.flatMap((item) => item.members.slice(0, 1).map((m) => m.order)));
  return [...orders].map((order) => {
    const place = { plate: order.plate.name, sheet: room.sheet.name };
    return report("gap-raised", { ...place, asked: order.gap, used }, place);
  });
}

function missing(
  room: Room,
  items: readonly Item[],
  laid: SheetsFound,
  input: LayInput,
): Finding[] {
  const left = new Set(laid.missing);
  const lost = new Map<PlateOrder, Item[]>();
  for (const item of items) {
    const order = item.members[0]?.order;
    if (order === undefined || !left.has(item)) continue;
    lost.set(order, [...(lost.get(order) ?? []), item]);
  }
  const named = [...lost].map(([order, left]) => {
    const item = left[0] as Item;
    const lying = turnedOutlines(item, room)[0]?.shape.box ?? order.plate.bounds;
    const { width, height } = sizeOf(lying);
    const clear = sizeOf(room.clear);
    const place = { plate: order.plate.name, sheet: room.sheet.name };
    const data = {
      ...place,
      width,
      height,
      clearWidth: Math.max(0, clear.width),
      clearHeight: Math.max(0, clear.height),
      margin: room.margin,
    };
    const alone = pack(room, [item], [], 0).length === 1;
    return alone
      ? report("sheet-full", { ...data, missing: left.length, count: order.count }, place)
      : report("plate-larger-than-sheet", data, place);
  });
  return [...named, ...sheetFor(room, laid.missing, input)];
}

/** Steps that the size of a sheet for what is missing is worth: a tenth of a second. */
const NEED_STEPS = 100_000;

function sheetFor(room: Room, items: readonly Item[], input: LayInput): Finding[] {
  if (items.length === 0 || input.search === undefined) return [];
  const { widestCutter, search } = input;
  const need = { room, items, widestCutter, seed: search.seed, steps: NEED_STEPS };
  const size = sheetNeeded({ ...need, leastGap: webGap(widestCutter) });
  if (size === undefined) return [];
  const data = { sheet: room.sheet.name, missing: items.length, ...size };
  return [report("sheet-needed", data, { sheet: room.sheet.name })];
}

interface Draft {
  readonly placement: Placement;
  readonly rank: number;
  readonly host: { readonly placement: Placement; readonly feature: number } | undefined;
}

/** Placements in the job's order of plates and copies, whatever order they found their places in. */
function assemble(
  sheet: Sheet,
  spots: readonly Spot[],
  nested: readonly Nested[],
  orders: readonly PlateOrder[],
): SheetLayout {
  const drafts: Draft[] = [];
  const firstOf = new Map<Spot, Placement>();
  for (const spot of spots) {
    const placed = spot.item.members.map((m) => placementOf(m.order.plate, spot.toSheet, m.copy));
    firstOf.set(spot, placed[0] as Placement);
    for (const [i, member] of spot.item.members.entries()) {
      const host = member.inside;
      drafts.push({
        placement: placed[i] as Placement,
        rank: orders.indexOf(member.order),
        host:
          host === undefined
            ? undefined
            : { placement: placed[host.member] as Placement, feature: host.feature },
      });
    }
  }
  const hosts = new Map(drafts.map((d) => [d.placement, d.host]));
  for (const n of nested) {
    const guest = firstOf.get(n.spot);
    const host = firstOf.get(n.host);
    if (guest && host) hosts.set(guest, { placement: host, feature: n.feature });
  }
  const sorted = drafts
    .sort((a, b) => a.rank - b.rank || a.placement.copy - b.placement.copy)
    .map((d) => d.placement);
  const placements = sorted.map((placement) => {
    const host = hosts.get(placement);
    if (host === undefined) return placement;
    const inside = { placement: sorted.indexOf(host.placement), feature: host.feature };
    return { ...placement, inside };
  });
  const area = placements.reduce((sum, p) => sum + p.plate.area, 0);
  return { sheet, placements, utilisation: area / Math.abs(signedArea(sheet.outline)) };
}
