/**
 * The cuts of one inner feature: hole, slot, window or recess.
 *
 * A slug is what comes loose inside an opening. It is cleared whole where it is nowhere thicker than
 * three cutter diameters (it could turn and jam), and held by tabs of its own where it is thicker, each piece of
 * it where necks let it fall into several; where other plates lie in it, it is always held.
 */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayToolpath } from "../../finding/say-toolpath.ts";
import { contains, isConvex, isWider, oriented, placeContour } from "../../geometry/contour.ts";
import { indexOf, segmentIndex } from "../../geometry/nearest.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { remembering } from "../../geometry/remember.ts";
import type { Contour } from "../../geometry/shape.ts";
import { BARELY } from "../../geometry/tolerance.ts";
import type { Placement } from "../../layout/layout.ts";
import type { Feature } from "../../plate/plate.ts";
import { nameOf } from "../choose/assign.ts";
import type { Cut, Ways } from "../cut.ts";
import { passes } from "../follow/depths.ts";
import { finishCut, type RingJob, ringCuts } from "../follow/ring-cut.ts";
import { roughThrough } from "../follow/rough.ts";
import { type Setup, travel } from "../follow/setup.ts";
import { trackOf } from "../follow/track.ts";
import { ringsInside } from "../follow/walls.ts";
import { type PlacedTab, placeTabs } from "../tab/place.ts";
import { bore, boreRadius, CORELESS, drill, grooves, helixRadius } from "./bore.ts";
import { type Chain, chainsInside, clearChain } from "./clear.ts";

export interface Opened {
  readonly ways: Ways;
  /** What comes loose in it stays, on its tabs or without. */
  readonly slug: boolean;
  readonly tabs: readonly PlacedTab[];
  readonly findings: readonly Finding[];
}

const report = reporter(sayToolpath);
/** A slug thinner than this many cutter diameters is cleared; common practice, no source. */
const JAMS_BELOW = 3;
/** A neck of a slug that is narrower than this breaks, or a lead cuts a crumb out of it, mm; common practice, no source. */
const NECK = 1;
/** Two kerfs that hardly meet leave a hair between them as soon as the cutter is smaller than measured, mm; common practice, no source. */
const HAIR = 0.02;
/** A slug on one tab swings into the cutter. */
const LEAST_SLUG_TABS = 2;

export interface OpeningJob {
  readonly placement: Placement;
  readonly feature: Feature;
  /** Outlines of plates that lie inside this window. */
  readonly nested: readonly Contour[];
}

export function openings(job: OpeningJob, setup: Setup): Opened {
  const { feature } = job;
  if (setup.cutter.kind === "drill") return only([[drill(feature, setup)]]);
  if (feature.kind === "hole" && feature.depth === undefined) {
    const rho = boreRadius(feature, setup);
    const coreless = helixRadius(rho, setup.options.finish.stock) <= CORELESS * setup.radius;
    if (coreless) return only([[bore(feature, setup)]]);
  }
  if (feature.kind === "slot" && (feature.width ?? 0) - effectiveDiameter(setup.cutter) <= BARELY) {
    return only(grooves(feature, setup));
  }
  const rings = ringsInside(job.placement.plate, feature, setup.radius);
  const parts = rings.map((ring) => openPart(ring, job, setup));
  const [first] = parts;
  return {
    // Of several parts each begins as usual: which belongs to which is not worth the asking.
    ways: parts.length === 1 && first ? first.ways : [parts.flatMap((p) => p.ways[0] ?? [])],
    slug: parts.some((p) => p.slug),
    tabs: parts.flatMap((p) => p.tabs),
    findings: parts.flatMap((p) => p.findings),
  };
}

function only(ways: Ways): Opened {
  return { ways, slug: false, tabs: [], findings: [] };
}

/** One ring of the finished path, plate frame; an opening has several only where a neck could not be passed. */
function openPart(ring: Contour, job: OpeningJob, setup: Setup): Opened {
  const { placement, feature, nested } = job;
  const inSheet = (c: Contour): Contour => placeContour(c, placement.plateToSheet);
  const rough = roughingRing(ring, job, setup);
  const roughRing = rough.ring && inSheet(rough.ring);
  const recess = feature.depth !== undefined;
  const depths = recess ? passes(feature.depth ?? 0, setup.rates.passDepth) : setup.through;
  const track = trackOf(travel(inSheet(ring), "inside", setup));
  const label = labelOf(feature);
  const base: RingJob = { label, side: "inside", track, roughRing, tabs: [], depths };
  // The kerf is wider by what roughing keeps off the wall.
  const kerf = setup.diameter + (roughRing === undefined ? 0 : setup.options.finish.stock);
  const inRing = (distance: number): Contour[] =>
    ringsInside(placement.plate, feature, distance).filter((slug) => liesIn(slug, ring));
  const slugs = inRing(kerf - HAIR);
  const unfinished = (made: Contour | undefined): Finding[] =>
    rough.wanted && made === undefined ? [withoutFinishing(job, setup)] : [];
  const along = (tabs: readonly PlacedTab[], slug: boolean, findings: Finding[] = []): Opened => {
    const ways = ringCuts({ ...base, tabs }, setup);
    return { ways, slug, tabs, findings: [...unfinished(rough.ring), ...findings] };
  };
  const clearedWhole = (say: SayCleared = sayCleared): Opened => {
    const chains = chainsInside(rough.cleared ?? ring, setup.radius).map((c) => c.map(inSheet));
    const cuts = clearing({ ...base, roughRing: rough.cleared && roughRing }, chains, setup);
    const rings = chains.reduce((n, chain) => n + chain.length, 0);
    const told = recess ? [] : [say(job, rings)];
    return { ...only([cuts]), findings: [...unfinished(rough.cleared), ...told] };
  };
  if (recess) return clearedWhole();
  if (nested.length === 0) {
    if (slugs.length === 0) return along([], false);
    if (slugs.some((slug) => isThin(slug, setup))) return clearedWhole();
    const hasWeakNeck =
      !isConvex(oriented(feature.contour, true)) && inRing(kerf + NECK / 2).length > slugs.length;
    if (hasWeakNeck) return clearedWhole(sayNeckCleared(kerf));
  }
  const tabs = slugTabs({ track, slugs: slugs.map(inSheet) }, job, setup);
  const holding = (piece: number): number => tabs.filter((tab) => tab.piece === piece).length;
  const held = tabs.length > 0 && slugs.every((_, piece) => holding(piece) >= LEAST_SLUG_TABS);
  if (held) return along(tabs, true);
  if (nested.length === 0) return clearedWhole();
  const place = placeOf(placement, feature);
  return along(tabs, true, [report("slug-without-tab", { feature: drawnName(job) }, place)]);
}

function withoutFinishing(job: OpeningJob, { options }: Setup): Finding {
  const data = { feature: drawnName(job), stock: options.finish.stock };
  return report("cut-without-finishing", data, placeOf(job.placement, job.feature));
}

/** By its place as it is drawn, not as it lies on the sheet. */
const drawnName = ({ placement, feature }: OpeningJob): string =>
  nameOf(placement.plate.features[feature.id] as Feature);

/** An opening whose neck the cutter cannot pass has several rings, and each its own slugs. */
function liesIn(slug: Contour, ring: Contour): boolean {
  const [first] = slug.segments;
  return first !== undefined && contains(ring, first.from);
}

const thinness = remembering<Contour, boolean>();

function isThin(slug: Contour, { diameter }: Setup): boolean {
  const reach = (JAMS_BELOW * diameter) / 2;
  return thinness(
    slug,
    reach,
    () => !isWider(slug, reach) && offsetRings([slug], -reach).length === 0,
  );
}

interface Rough {
  /** Leaves the stock, plate frame; absent where there is no such ring, or no way through all of the opening. */
  readonly ring: Contour | undefined;
  /** The same where clearing inside it leaves no more than the stock anywhere. */
  readonly cleared: Contour | undefined;
  /** Somewhere there is room for it. */
  readonly wanted: boolean;
}

function roughingRing(finished: Contour, { placement, feature }: OpeningJob, setup: Setup): Rough {
  const none = { ring: undefined, cleared: undefined };
  const { stock } = setup.options.finish;
  if (stock <= 0) return { ...none, wanted: false };
  const rings = ringsInside(placement.plate, feature, setup.radius + stock);
  const [plain] = rings;
  const one = ringsInside(placement.plate, feature, setup.radius).length === 1;
  if (rings.length !== 1 || !one || !plain) return { ...none, wanted: rings.length > 0 };
  const ring = roughThrough(plain, finished, stock);
  return { ring, cleared: ring === plain ? plain : undefined, wanted: true };
}

function clearing(base: RingJob, chains: readonly Chain[], setup: Setup): Cut[] {
  const cuts = chains.map((chain) => clearChain(chain, base.depths, base.label, setup));
  return base.roughRing === undefined ? cuts : [...cuts, finishCut(base, setup)];
}

/** Why an opening is cleared whole, in so many rings. */
type SayCleared = (job: OpeningJob, rings: number) => Finding;

function sayCleared(job: OpeningJob, rings: number): Finding {
  const place = placeOf(job.placement, job.feature);
  return report("slug-cleared", { feature: drawnName(job), rings }, place);
}

function sayNeckCleared(kerf: number): SayCleared {
  const [most, least] = [2 * kerf, 2 * kerf + NECK];
  return (job, rings) => {
    const data = { feature: drawnName(job), rings, neck: NECK, most, least };
    return report("slug-neck-cleared", data, placeOf(job.placement, job.feature));
  };
}

interface Slugs {
  readonly track: RingJob["track"];
  /** Sheet frame: several where a neck is no wider than the kerfs on both its sides. */
  readonly slugs: readonly Contour[];
}

function slugTabs({ track, slugs }: Slugs, job: OpeningJob, setup: Setup): PlacedTab[] {
  const { placement, feature, nested } = job;
  const { tabs } = setup.options;
  return placeTabs(
    {
      track,
      wallRight: setup.wallRight,
      radius: setup.radius,
      plate: segmentIndex([placement.outer, ...placement.features.map((f) => f.contour)]),
      neighbours: segmentIndex([feature.contour, ...nested]),
      edges: indexOf([]),
      mating: [],
      pieces: slugs,
    },
    {
      ...tabs,
      least: Math.max(tabs.least, LEAST_SLUG_TABS),
      thickness: setup.thickness,
      rise: setup.tabTop - setup.through.bottom,
      // A slug that tabs hold badly is better cleared; one that holds plates cannot be.
      eased: nested.length > 0,
    },
  );
}

function labelOf(feature: Feature): string {
  if (feature.depth !== undefined) return `recess ${feature.depth} deep`;
  return feature.kind;
}

/** In the plate's own frame, as every place of a finding that names a plate. */
export function placeOf(
  placement: Placement,
  feature: Feature,
): Pick<Finding, "plate" | "at" | "drawing"> {
  const drawn = placement.plate.features[feature.id] as Feature;
  return {
    plate: placement.plate.name,
    at: [drawn.at.x, drawn.at.y],
    drawing: drawn.contour.segments[0]?.origin,
  };
}
