/**
 * Holes and narrow slots.
 *
 * A hole is bored by a helix whose pitch follows the ramp angle (π d tan ramp a turn, and no more than
 * one pass), then once round at depth, then finished on a circle that is met and left on half circles.
 * Where the hole is as wide as the cutter only a drill goes down straight. A slot as wide as the
 * cutter is one line, there and back, down along itself.
 */
import { distance } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { cos, sin, TAU } from "../../geometry/trig.ts";
import type { Feature } from "../../plate/plate.ts";
import type { Cut, CutMove, Ways } from "../cut.ts";
import { type ArcFeed, feedOn } from "../follow/feed.ts";
import type { Setup } from "../follow/setup.ts";

/** Past this share of the cutter's radius a helix leaves a pin in the middle. */
export const CORELESS = 0.98;

/** Radius of the finished path of the centre in a hole. */
export function boreRadius(feature: Feature, setup: Setup): number {
  return (feature.diameter ?? 0) / 2 - setup.radius;
}

/** Radius of the roughing helix: the stock off, where there is room for both. */
export function helixRadius(rho: number, stock: number): number {
  return rho > 2 * stock ? rho - stock : rho;
}

export function bore(feature: Feature, setup: Setup): Cut {
  const rho = boreRadius(feature, setup);
  const rough = helixRadius(rho, setup.options.finish.stock);
  const c = feature.at;
  const ccw = setup.wallRight;
  const start = { x: c.x + rough, y: c.y };
  const bottom = setup.through.bottom;
  const moves: CutMove[] = [{ to: start, z: 0, feed: setup.feeds.plunge }];
  const pitch = Math.min(TAU * rough * setup.slope, setup.rates.passDepth);
  const turns = Math.max(1, Math.ceil(-bottom / pitch - 1e-6));
  const around = { centre: c, sweep: ccw ? TAU : -TAU };
  const on = (radius: number, feed: ArcFeed): number => circleFeed(c, radius, ccw, feed);
  for (let i = 1; i <= turns; i++) {
    const z = i === turns ? bottom : (bottom * i) / turns;
    moves.push({
      to: start,
      z,
      arc: around,
      feed: on(rough, setup.feeds.ramp),
      ...originOf(feature),
    });
  }
  moves.push({
    to: start,
    z: bottom,
    arc: around,
    feed: on(rough, setup.feeds.cut),
    ...originOf(feature),
  });
  if (rough < rho) moves.push(...finishBore(feature, rough, rho, setup));
  return { label: `hole ${round(feature.diameter ?? 0)}`, start, startZ: setup.startZ, moves };
}

function finishBore(feature: Feature, rough: number, rho: number, setup: Setup): CutMove[] {
  const c = feature.at;
  const sweep = setup.wallRight ? TAU / 2 : -TAU / 2;
  const z = setup.through.bottom;
  const far = { x: c.x - rho, y: c.y };
  const near = { x: c.x + rough, y: c.y };
  // Both half circles touch the finished circle at its far side.
  const middle = { x: c.x + (rough - rho) / 2, y: c.y };
  const on = (radius: number): number => circleFeed(c, radius, setup.wallRight, setup.feeds.finish);
  const lead = { z, arc: { centre: middle, sweep }, feed: on((rough + rho) / 2) };
  return [
    { to: far, ...lead },
    { to: far, z, arc: { centre: c, sweep: 2 * sweep }, feed: on(rho), ...originOf(feature) },
    { to: near, ...lead },
  ];
}

function circleFeed(centre: Point, radius: number, ccw: boolean, feed: ArcFeed): number {
  const p = { x: centre.x + radius, y: centre.y };
  return feedOn({ kind: "arc", from: p, to: p, centre, radius, sweep: ccw ? TAU : -TAU }, feed);
}

/** A hole of the drill's own size: straight down, no pecks. */
export function drill(feature: Feature, setup: Setup): Cut {
  return {
    label: `hole ${round(feature.diameter ?? 0)} drilled`,
    start: feature.at,
    startZ: setup.startZ,
    moves: [
      { to: feature.at, z: setup.through.bottom, feed: setup.feeds.plunge, ...originOf(feature) },
    ],
  };
}

/** A slot of the cutter's own width: along its middle, sinking at the ramp angle, all of it level at last; from either end. */
export function grooves(feature: Feature, setup: Setup): Ways {
  const half = ((feature.length ?? 0) - (feature.width ?? 0)) / 2;
  const along = { x: cos(feature.angle ?? 0) * half, y: sin(feature.angle ?? 0) * half };
  const ends: [Point, Point] = [
    { x: feature.at.x - along.x, y: feature.at.y - along.y },
    { x: feature.at.x + along.x, y: feature.at.y + along.y },
  ];
  return [[groove(feature, ends, setup)], [groove(feature, [ends[1], ends[0]], setup)]];
}

function groove(feature: Feature, ends: readonly [Point, Point], setup: Setup): Cut {
  // Where it turns round it has just come down to, and the way back ends twice a drop below the way before.
  const drop = Math.min(distance(...ends) * setup.slope, setup.rates.passDepth / 2);
  const { bottom } = setup.through;
  const turns = Math.max(1, Math.ceil(-bottom / drop - 1e-6));
  const moves: CutMove[] = [{ to: ends[0], z: 0, feed: setup.feeds.plunge }];
  for (let i = 1; i <= turns; i++) {
    const z = i === turns ? bottom : (bottom * i) / turns;
    moves.push({ to: ends[i % 2] as Point, z, feed: setup.feeds.ramp.base, ...originOf(feature) });
  }
  for (const i of [turns + 1, turns + 2]) {
    moves.push({
      to: ends[i % 2] as Point,
      z: bottom,
      feed: setup.feeds.cut.base,
      ...originOf(feature),
    });
  }
  return {
    label: `slot ${round(feature.width ?? 0)}`,
    start: ends[0],
    startZ: setup.startZ,
    moves,
  };
}

function originOf(feature: Feature): Pick<CutMove, "origin"> {
  return { origin: feature.contour.segments[0]?.origin };
}

/** Sizes in labels: two decimals are all that a person reads. */
export function round(value: number): string {
  return String(Number(value.toFixed(2)));
}
