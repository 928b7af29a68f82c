/**
 * All that one cutter does for the plates of a sheet: features with their ways to be cut, outlines, tabs.
 *
 * What stands alone gets what was worked out at home (homes.ts), and the cuts that are chosen are placed for each copy
 * (order.ts).
 */
import type { Finding } from "../finding/finding.ts";
import { boxesTouch } from "../geometry/contour.ts";
import { remembering } from "../geometry/remember.ts";
import { placePoint } from "../geometry/segment.ts";
import type { Contour, Rigid } from "../geometry/shape.ts";
import { type Boxed, boxed, curveDistance } from "../layout/clearance.ts";
import type { Placement, SheetLayout } from "../layout/layout.ts";
import type { Plate } from "../plate/plate.ts";
import type { Assignment } from "./choose/assign.ts";
import type { Tab } from "./cut.ts";
import type { Setup } from "./follow/setup.ts";
import { openings } from "./open/opening.ts";
import type { PlateStops, Stop } from "./order.ts";
import { keptFrom, outlineCut } from "./outline.ts";
import { type PlacedTab, tabReach } from "./tab/place.ts";

export interface Stops extends Omit<PlateStops, "after"> {
  readonly tabs: readonly Tab[];
  readonly findings: readonly Finding[];
}

/** A plate by itself, and which cutter makes what of it. */
export interface AtHome {
  readonly plate: Plate;
  readonly assigned: Assignment;
  readonly flipped: boolean;
}

/** For each placement. `assigned`: which cutter makes what of it. */
export function stopsOn(
  layout: SheetLayout,
  assigned: readonly Assignment[],
  setup: Setup,
  atHome: (of: AtHome, setup: Setup) => Stops,
): readonly Stops[] {
  const edges = keptFrom(layout.sheet).map(boxedOnce);
  return layout.placements.map((placement, index) => {
    const own = assigned[index] as Assignment;
    if (!standsAlone(layout, index, edges, setup)) return stopsAt(layout, index, own, setup);
    const { plate, plateToSheet } = placement;
    const home = atHome({ plate, assigned: own, flipped: plateToSheet.flipped }, setup);
    return stopsFrom(home, layout, index, setup);
  });
}

/** Boxes of an outline are asked for by each of its neighbours. */
const boxes = remembering<Contour, Boxed>();

function boxedOnce(contour: Contour): Boxed {
  return boxes(contour, "", () => boxed(contour));
}

/** Would a copy of this plate on an endless sheet be cut the same? */
function standsAlone(
  { placements }: SheetLayout,
  index: number,
  edges: readonly Boxed[],
  { radius }: Setup,
): boolean {
  const placement = placements[index] as Placement;
  if (placement.inside !== undefined) return false;
  if (placements.some((p) => p.inside?.placement === index)) return false;
  const outer = boxedOnce(placement.outer);
  const reach = tabReach(radius);
  const far = (other: Boxed, least: number): boolean =>
    !boxesTouch(other.box, outer.box, least) || curveDistance(outer, other, least, least) >= least;
  return (
    edges.every((edge) => far(edge, reach.edge)) &&
    placements.every((p) => p === placement || far(boxedOnce(p.outer), reach.wall))
  );
}

/** What was worked out at home, for a copy where it lies. */
function stopsFrom(home: Stops, layout: SheetLayout, index: number, setup: Setup): Stops {
  const placement = layout.placements[index] as Placement;
  const toSheet: Rigid = { ...placement.plateToSheet, flipped: false };
  const place = ({ ways }: Stop, frees: readonly Contour[]): Stop => ({ ways, toSheet, frees });
  return {
    inner: home.inner.map((stop) => place(stop, slugOf(stop, placement))),
    ...(home.outline === undefined
      ? {}
      : { outline: place(home.outline, outlineFrees(layout, placement, setup)) }),
    tabs: home.tabs.map((tab) => ({
      ...tab,
      sheet: setup.sheet.name,
      copy: placement.copy,
      at: placePoint(tab.at, toSheet),
    })),
    findings: home.findings,
  };
}

function slugOf({ feature, frees = [] }: Stop, { features }: Placement): readonly Contour[] {
  if (frees.length === 0) return [];
  return features.filter((f) => f.id === feature).map((f) => f.contour);
}

export function stopsAt(
  layout: SheetLayout,
  index: number,
  assigned: Assignment,
  setup: Setup,
): Stops {
  const placement = layout.placements[index] as Placement;
  const { outline, features } = assigned;
  const inner: Stop[] = [];
  const tabs: Tab[] = [];
  const findings: Finding[] = [];
  for (const feature of placement.features) {
    if (features.get(feature.id) !== setup.cutter) continue;
    const nested = layout.placements
      .filter((p) => p.inside?.placement === index && p.inside.feature === feature.id)
      .map((p) => p.outer);
    const { ways, slug, ...opened } = openings({ placement, feature, nested }, setup);
    const frees = slug ? [feature.contour] : [];
    if (ways.some((cuts) => cuts.length > 0)) inner.push({ ways, feature: feature.id, frees });
    tabs.push(...opened.tabs.map((t) => tabOf(t, placement, setup, feature.id)));
    findings.push(...opened.findings);
  }
  if (outline !== setup.cutter) return { inner, tabs, findings };
  const last = outlineCut(layout, placement, setup);
  tabs.push(...last.tabs.map((t) => tabOf(t, placement, setup)));
  findings.push(...last.findings);
  const frees = outlineFrees(layout, placement, setup);
  return { inner, outline: { ways: last.ways, frees }, tabs, findings };
}

/** The plate, and plates so near that this outline's kerf runs along them too. */
function outlineFrees(
  { placements }: SheetLayout,
  { outer }: Placement,
  { radius, options }: Setup,
): Contour[] {
  const reach = 2 * radius + 2 * options.finish.stock + KERF_ROOM;
  const own = boxedOnce(outer);
  const besides = placements
    .map((p) => p.outer)
    .filter((c) => c !== outer && curveDistance(boxedOnce(c), own, reach) < reach);
  return [outer, ...besides];
}

/** A kerf no further than this beside a plate counts as its own, mm. */
const KERF_ROOM = 0.2;

function tabOf(
  { at, width }: PlacedTab,
  placement: Placement,
  setup: Setup,
  feature?: number,
): Tab {
  const { height } = setup.options.tabs;
  const base = { sheet: setup.sheet.name, plate: placement.plate.name, copy: placement.copy };
  return { ...base, ...(feature === undefined ? {} : { feature }), at, width, height };
}
