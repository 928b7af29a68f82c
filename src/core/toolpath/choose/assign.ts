/**
 * Which cutter makes what.
 *
 * Each feature goes to the largest cutter that makes it whole; smaller ones only where needed. Programs
 * run drills first, then from the smallest cutter to the largest, and a plate's inner features never use
 * a larger cutter than its outline, nor a plate inside a window a larger one than that window: so every
 * inner feature precedes its outline although each cutter runs once.
 * Cost: one fit for each feature and cutter tried, from the largest down.
 */
import { type Cutter, effectiveDiameter } from "../../cutting/cutter.ts";
import { type Finding, type Place, reporter } from "../../finding/finding.ts";
import { sayToolpath } from "../../finding/say-toolpath.ts";
import { BARELY } from "../../geometry/tolerance.ts";
import type { Feature, Plate } from "../../plate/plate.ts";
import { type Fit, fitOf, wallOf } from "./fit.ts";

export interface Assignment {
  readonly outline: Cutter | undefined;
  /** By feature id; absent where no cutter fits. */
  readonly features: ReadonlyMap<number, Cutter>;
  readonly findings: readonly Finding[];
}

const report = reporter(sayToolpath);

/** A helix wants this much more hole than cutter, or it is a plunge in all but name; common practice, no source. */
const HELIX_ROOM = 1.1;

/** Drills, then the others from small to large: the order in which programs are run. */
export function runningOrder(cutters: readonly Cutter[]): Cutter[] {
  const rank = (c: Cutter): number => (c.kind === "drill" ? 0 : 1);
  return [...cutters].sort(
    (a, b) => rank(a) - rank(b) || effectiveDiameter(a) - effectiveDiameter(b),
  );
}

export function assignCutters(plate: Plate, cutters: readonly Cutter[], cap?: Cutter): Assignment {
  const findings: Finding[] = [];
  const features = new Map<number, Cutter>();
  const all = runningOrder(cutters);
  const routers = upTo(
    all.filter((c) => c.kind !== "drill"),
    cap,
  );
  if (routers.length === 0) {
    return {
      outline: undefined,
      features,
      findings: [report("no-cutter", {}, { plate: plate.name })],
    };
  }
  const wall = wallOf(plate.outer, "outside");
  const outline = bestFor((radius) => fitOf(wall, radius), routers);
  const place = { plate: plate.name, drawing: plate.origin };
  findings.push(...remarks("The outline", outline, place));
  const inner = upTo(routers, outline.cutter);
  for (const feature of plate.features) {
    const found = cutterFor(
      feature,
      inner,
      all.filter((c) => c.kind === "drill"),
    );
    const at: Place = {
      plate: plate.name,
      at: [feature.at.x, feature.at.y],
      drawing: feature.contour.segments[0]?.origin,
    };
    if (found.cutter !== undefined) features.set(feature.id, found.cutter);
    findings.push(...found.findings.map((f) => ({ ...f, ...at })));
  }
  return { outline: outline.cutter, features, findings };
}

function upTo(cutters: readonly Cutter[], cap: Cutter | undefined): Cutter[] {
  if (cap === undefined) return [...cutters];
  return cutters.filter((c) => effectiveDiameter(c) <= effectiveDiameter(cap));
}

interface Best {
  readonly cutter: Cutter;
  readonly fit: Fit;
}

/** The largest that makes it whole, else the smallest. */
function bestFor(fitWith: (radius: number) => Fit, routers: readonly Cutter[]): Best {
  let last: Best | undefined;
  for (const cutter of [...routers].reverse()) {
    last = { cutter, fit: fitWith(effectiveDiameter(cutter) / 2) };
    if (last.fit.whole) return last;
  }
  return last as Best;
}

interface Found {
  readonly cutter?: Cutter;
  readonly findings: readonly Finding[];
}

function cutterFor(feature: Feature, routers: readonly Cutter[], drills: readonly Cutter[]): Found {
  if (feature.kind === "hole" && feature.depth === undefined)
    return forHole(feature, routers, drills);
  if (feature.kind === "slot") return forSlot(feature, routers);
  const wall = wallOf(feature.contour, "inside");
  const best = bestFor((radius) => fitOf(wall, radius), routers);
  const name = nameOf(feature);
  if (!best.fit.enters) return tooNarrow(name, widthOf(feature), routers);
  return { cutter: best.cutter, findings: remarks(name, best, {}) };
}

function forHole(feature: Feature, routers: readonly Cutter[], drills: readonly Cutter[]): Found {
  const size = feature.diameter ?? 0;
  const own = drills.find((d) => Math.abs(effectiveDiameter(d) - size) <= BARELY);
  if (own !== undefined) return { cutter: own, findings: [] };
  const large = [...routers].reverse();
  const roomy = large.find((c) => effectiveDiameter(c) * HELIX_ROOM <= size);
  const cutter = roomy ?? large.find((c) => effectiveDiameter(c) < size - BARELY);
  if (cutter !== undefined) return { cutter, findings: [] };
  const smallest = routers[0] as Cutter;
  const diameter = effectiveDiameter(smallest);
  if (diameter <= size + BARELY) {
    const data = { width: size, cutter: smallest.name, diameter };
    return { findings: [report("hole-is-cutter-width", data)] };
  }
  return tooNarrow(nameOf(feature), size, routers);
}

function forSlot(feature: Feature, routers: readonly Cutter[]): Found {
  const width = feature.width ?? 0;
  // A slot as wide as the cutter is one line; a hair of drawing noise below it still is.
  const cutter = [...routers].reverse().find((c) => effectiveDiameter(c) <= width + 1e-3);
  if (cutter === undefined) return tooNarrow(nameOf(feature), width, routers);
  return { cutter, findings: [] };
}

function tooNarrow(feature: string, width: number, routers: readonly Cutter[]): Found {
  const smallest = routers[0] as Cutter;
  const diameter = effectiveDiameter(smallest);
  const data = { feature, width, cutter: smallest.name, diameter };
  return { findings: [report("slot-narrower-than-cutter", data)] };
}

function remarks(feature: string, best: Best, place: Place): Finding[] {
  const { cutter, fit: f } = best;
  const data = { feature, cutter: cutter.name, diameter: effectiveDiameter(cutter) };
  if (!f.whole) {
    const leftMm2 = f.leftMm2 - f.cornersMm2;
    const code = f.split ? "neck-narrower-than-cutter" : "curve-tighter-than-cutter";
    return [report(code, { ...data, leftMm2 }, place)];
  }
  if (f.cornersMm2 === 0) return [];
  const rest = { cornerMm: f.cornerMm, leftMm2: f.cornersMm2 };
  return [report("corner-stays-round", { ...data, ...rest }, place)];
}

export function nameOf(feature: Feature): string {
  const at = `at (${Number(feature.at.x.toFixed(2))}, ${Number(feature.at.y.toFixed(2))})`;
  if (feature.kind === "hole") return `The ${mmText(feature.diameter)} hole ${at}`;
  if (feature.kind === "slot") return `The ${mmText(feature.width)} slot ${at}`;
  return `The ${feature.kind} ${at}`;
}

function mmText(value: number | undefined): string {
  return `${Number((value ?? 0).toFixed(3))} mm`;
}

/** How wide a window is at the least, for the message alone: its box's smaller side. */
function widthOf(feature: Feature): number {
  const xs = feature.contour.segments.map((s) => s.from.x);
  const ys = feature.contour.segments.map((s) => s.from.y);
  return Math.min(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
}
