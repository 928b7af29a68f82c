/** Relief on request: the sharp inside corners of a window cut free, along its longer walls or on the bisectors. */

import { effectiveDiameter } from "../cutting/cutter.ts";
import type { Finding } from "../finding/finding.ts";
import { reportFit } from "../finding/say-fit.ts";
import { closeUp, oriented, turnBetween } from "../geometry/contour.ts";
import { lengthOf, line } from "../geometry/segment.ts";
import type { Contour, Line, Segment } from "../geometry/shape.ts";
import type { Feature, Plate } from "../plate/plate.ts";
import { reliefRadius, smallestRouter } from "./choose.ts";
import type { FitChange, FitInput, FitPlate, Relief, WindowWish } from "./mate.ts";
import { type CornerRelief, type Relieved, relieve } from "./shape/relief.ts";
import { remade, type Step, withFeatures } from "./shape/rework.ts";
import { featureAt } from "./shape/slot-room.ts";

export function relieveWindows(input: FitInput, p: FitPlate, plate: Plate): Step {
  const changes: FitChange[] = [];
  const findings: Finding[] = [];
  let features = plate.features;
  for (const wish of p.relief) {
    const found = featureAt([{ ...plate, features }], wish.window);
    const at = [wish.window.x, wish.window.y] as const;
    const place = { plate: plate.name, at };
    if (found === undefined) {
      // Of several plates of one drawing, the window is in one.
      const elsewhere = featureAt(p.plates, wish.window) !== undefined;
      if (!elsewhere)
        findings.push(reportFit("relief-without-window", { x: at[0], y: at[1] }, place));
      continue;
    }
    const made = relieveWindow(found.feature, wish, radiusOf(input, wish));
    if (made === undefined) {
      findings.push(reportFit("relief-without-corner", { radius: radiusOf(input, wish) }, place));
      continue;
    }
    const { feature } = found;
    features = features.map((f) => (f.id === feature.id ? remade(f, made.contour) : f));
    const size = { width: feature.width ?? 0, length: feature.length ?? 0 };
    const { relief } = made;
    changes.push({
      plate: plate.name,
      what: "window",
      at: feature.at,
      before: size,
      after: size,
      relief,
    });
    const data = {
      relief: relief.way,
      radius: relief.radius,
      bite: relief.bite,
      corners: relief.corners,
    };
    findings.push(reportFit("window-relieved", data, place));
  }
  return {
    plate: features === plate.features ? plate : withFeatures(plate, features),
    changes,
    findings,
  };
}

/** A relief of the cutter's very radius has no way in along the bisector but one of no width, mm. */
const ENTERS = 0.01;

function radiusOf(input: FitInput, { radius }: WindowWish): number {
  const cutter = smallestRouter(input.cutters);
  if (cutter === undefined) return radius ?? 0;
  if (radius === undefined) return reliefRadius(cutter, input);
  const own = effectiveDiameter(cutter) / 2;
  return Math.abs(radius - own) < ENTERS ? own + ENTERS : radius;
}

/** Corners that turn by less are no corners that anything sits in, rad (about 20°). */
const CORNER = 0.35;

/** Undefined where no corner can be cut free. */
export function relieveWindow(
  feature: Feature,
  { way }: WindowWish,
  radius: number,
): { contour: Contour; relief: Relief } | undefined {
  const { segments } = oriented(feature.contour, true);
  const corners = segments.map((s, i): Relieved | undefined => {
    const next = segments[(i + 1) % segments.length] as Segment;
    if (s.kind !== "line" || next.kind !== "line" || turnBetween(s, next) < CORNER)
      return undefined;
    return relieve(s, next, wayAt(s, next, way), radius);
  });
  const cut = corners.filter((c) => c !== undefined);
  const [first] = cut;
  if (first === undefined) return undefined;
  const made = segments.flatMap((s, i): Segment[] => {
    const before = corners[(i + segments.length - 1) % segments.length];
    const after = corners[i];
    if (s.kind !== "line") return [s];
    const from = before?.secondBegins ?? s.from;
    const to = after?.firstEnds ?? s.to;
    if (!ahead(s, line(from, to))) return [];
    return [line(from, to, s.origin), ...(after === undefined ? [] : [after.bow])];
  });
  // A wall too short for the relief of both its ends: none of it is cut.
  if (made.length < segments.length + cut.length) return undefined;
  const bite = Math.max(...cut.map((c) => c.bite));
  const relief = { way, radius, bite, corners: cut.length };
  return { contour: oriented({ segments: closeUp(made) }, false), relief };
}

function wayAt(first: Line, second: Line, way: WindowWish["way"]): CornerRelief {
  if (way === "bisector") return "bisector";
  return lengthOf(first) >= lengthOf(second) ? "along-first" : "along-second";
}

function ahead(wall: Line, left: Line): boolean {
  const dot =
    (left.to.x - left.from.x) * (wall.to.x - wall.from.x) +
    (left.to.y - left.from.y) * (wall.to.y - wall.from.y);
  return dot > 0;
}
