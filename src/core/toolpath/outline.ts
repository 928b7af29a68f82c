/** The cut that sets a plate free, but for its tabs. */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayToolpath } from "../finding/say-toolpath.ts";
import { perimeter, rectangle } from "../geometry/contour.ts";
import { segmentIndex } from "../geometry/nearest.ts";
import { circle, placePoint } from "../geometry/segment.ts";
import type { Contour } from "../geometry/shape.ts";
import type { Placement, Sheet, SheetLayout } from "../layout/layout.ts";
import type { Ways } from "./cut.ts";
import { ringCuts } from "./follow/ring-cut.ts";
import { roughThrough } from "./follow/rough.ts";
import { type Setup, travel } from "./follow/setup.ts";
import { trackOf } from "./follow/track.ts";
import { ringOutside } from "./follow/walls.ts";
import { type PlacedTab, placeTabs, type TabGround, wantedTabs } from "./tab/place.ts";

const report = reporter(sayToolpath);

export interface OutlineCut {
  readonly ways: Ways;
  readonly tabs: readonly PlacedTab[];
  readonly findings: readonly Finding[];
}

export function outlineCut(layout: SheetLayout, placement: Placement, setup: Setup): OutlineCut {
  const { stock } = setup.options.finish;
  const ring = ringOutside(placement, setup.radius);
  const further = stock > 0 ? ringOutside(placement, setup.radius + stock) : undefined;
  const roughRing = further && roughThrough(further, ring, stock);
  const track = trackOf(travel(ring, "outside", setup));
  const wish = {
    ...setup.options.tabs,
    thickness: setup.thickness,
    rise: setup.tabTop - setup.through.bottom,
    eased: true,
  };
  const tabs = placeTabs(groundOf(layout, placement, setup, track), wish);
  const ways = ringCuts(
    {
      label: "outline",
      side: "outside",
      track,
      roughRing,
      tabs,
      depths: setup.through,
    },
    setup,
  );
  const findings = tabFindings(placement, tabs, wantedTabs(track.length, wish), wish.width);
  if (stock > 0 && roughRing === undefined)
    findings.push(unfinished("The outline", placement, stock));
  return { ways, tabs, findings };
}

function unfinished(feature: string, placement: Placement, stock: number): Finding {
  const place = { plate: placement.plate.name, drawing: placement.plate.origin };
  return report("cut-without-finishing", { feature, stock }, place);
}

function tabFindings(
  placement: Placement,
  tabs: readonly PlacedTab[],
  wanted: number,
  width: number,
): Finding[] {
  const long = perimeter(placement.plate.outer);
  const place = { plate: placement.plate.name, drawing: placement.plate.origin };
  const placed = tabs.length;
  if (placed === 0) return [report("plate-without-tab", { perimeter: long, width }, place)];
  const found: Finding[] = [];
  if (placed < wanted) found.push(report("fewer-tabs", { placed, wanted, perimeter: long }, place));
  const made = tabs[0]?.width ?? width;
  if (made < width) found.push(report("narrower-tabs", { made, width, perimeter: long }, place));
  return found;
}

function groundOf(
  layout: SheetLayout,
  placement: Placement,
  setup: Setup,
  track: TabGround["track"],
): TabGround {
  const { placements, sheet } = layout;
  const host = placement.inside === undefined ? undefined : placements[placement.inside.placement];
  const window = host?.features.find((f) => f.id === placement.inside?.feature);
  const near = placements
    .filter((p) => p !== placement && p !== host)
    .map((p) => p.outer)
    .concat(window === undefined ? [] : [window.contour]);
  return {
    track,
    wallRight: setup.wallRight,
    radius: setup.radius,
    plate: segmentIndex([placement.outer, ...placement.features.map((f) => f.contour)]),
    neighbours: segmentIndex([placement.outer, ...near]),
    edges: segmentIndex(keptFrom(sheet)),
    pieces: [],
    mating: (placement.plate.matingEdges ?? []).map((edge) => ({
      from: placePoint(edge.from, placement.plateToSheet),
      to: placePoint(edge.to, placement.plateToSheet),
    })),
  };
}

/** Where the sheet ends without a kerf: its edge, and keep-outs. */
export function keptFrom({ outline, keepOuts }: Sheet): Contour[] {
  return [
    outline,
    ...keepOuts.map((k) =>
      k.kind === "disc"
        ? { segments: [circle(k.at, k.diameter / 2, true)] }
        : rectangle(k.box.min.x, k.box.min.y, k.box.max.x, k.box.max.y),
    ),
  ];
}
