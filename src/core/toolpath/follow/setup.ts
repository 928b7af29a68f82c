/**
 * What the cuts of one program share: cutter, depths, feeds, direction.
 *
 * Direction, seen from a spindle that turns clockwise (M3): climb has the plate on the right of
 * travel, so outlines run clockwise and openings counter-clockwise; conventional the other way round.
 */
import { chipBand } from "../../cutting/chip-band.ts";
import {
  type Cutter,
  effectiveDiameter,
  type Rates,
  type TrialMaterial,
} from "../../cutting/cutter.ts";
import { reversedContour } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import { radians, tan } from "../../geometry/trig.ts";
import { type Sheet, thicknessOf } from "../../layout/layout.ts";
import type { Machine } from "../../machine/machine.ts";
import type { CuttingOptions } from "../cut.ts";
import { type Depths, passes } from "./depths.ts";
import { mostZOn } from "./feed.ts";
import type { LoopFeeds } from "./loop.ts";

export interface Setup {
  readonly sheet: Sheet;
  readonly cutter: Cutter;
  readonly rates: Rates;
  readonly options: CuttingOptions;
  readonly thickness: number;
  readonly diameter: number;
  readonly radius: number;
  readonly slope: number;
  readonly wallRight: boolean;
  readonly feeds: LoopFeeds;
  /** Through the sheet. */
  readonly through: Depths;
  /** Z of the tabs' top. */
  readonly tabTop: number;
  /** Z to which the cutter comes down at rapid. */
  readonly startZ: number;
}

/** Rapid down to this above the sheet's top, mm; common practice, no source. */
const APPROACH = 1;

export interface SetupFor {
  readonly sheet: Sheet;
  readonly cutter: Cutter;
  readonly rates: Rates;
  readonly options: CuttingOptions;
  readonly machine: Machine;
  readonly trial?: TrialMaterial | undefined;
}

export function setupOf({ sheet, cutter, rates, options, machine, trial }: SetupFor): Setup {
  const thickness = thicknessOf(sheet);
  const diameter = effectiveDiameter(cutter);
  const radius = diameter / 2;
  const wallRight = options.direction === "climb";
  // Where the wall lets the centre go faster, the centre itself keeps within the chip: what the first
  // and last of a lap meets need not lie along the wall.
  const chip = chipBand(cutter, trial ?? sheet.material).most * rates.rpm;
  const most = Math.min(
    machine.maxFeed[0],
    machine.maxFeed[1],
    Math.max(chip, rates.finishFeed, rates.feed),
  );
  const arc = (base: number) => ({
    base,
    cutterRadius: radius,
    wallRight,
    faster: false,
    most,
    mostZ: mostZOn(machine),
  });
  return {
    sheet,
    cutter,
    rates,
    options,
    thickness,
    diameter,
    radius,
    slope: tan(radians(options.rampDeg)),
    wallRight,
    feeds: {
      ramp: arc(rates.rampFeed),
      cut: arc(rates.feed),
      finish: arc(rates.finishFeed),
      plunge: rates.plungeFeed,
    },
    through: passes(thickness + options.throughDepth, rates.passDepth),
    tabTop: -thickness + options.tabs.height,
    startZ: Math.min(APPROACH, options.clearance, options.hop),
  };
}

/** A counter-clockwise ring in the direction in which the cutter goes round it. */
export function travel(ring: Contour, side: "inside" | "outside", setup: Setup): Contour {
  const ccw = (side === "inside") === setup.wallRight;
  return ccw ? ring : reversedContour(ring);
}
