/**
 * What has to be said of a drawing's unit: that there is none, that px were taken for some size, or that the
 * declared unit gives no plate while another does. People who cannot tell from a number can tell from the size
 * and the holes, so each reading shows both.
 *
 * Bounds of what a plate is: common practice of multirotor plates, no source.
 */
import type { Finding } from "../finding/finding.ts";
import { reportDrawing } from "../finding/say-drawing.ts";
import { isCircle } from "../geometry/contour.ts";
import type { Arc } from "../geometry/shape.ts";
import type { LengthUnit, Loop, OpenChain, ReadOptions, Units } from "./drawing.ts";
import { boxAroundAll } from "./mend/double/boxes.ts";
import { FACTORS } from "./units.ts";

/** Size and round holes of a drawing, in drawing units. */
export interface Measure {
  readonly width: number;
  readonly height: number;
  readonly diameters: readonly number[];
}

export function measureOf(
  loops: readonly Loop[],
  chains: readonly OpenChain[],
  factor: number,
): Measure {
  const drawn = loops.length > 0 ? loops.map((l) => l.contour) : chains;
  const box = boxAroundAll(drawn);
  const empty = drawn.length === 0 || !(factor > 0);
  const round = loops
    .filter((l) => isCircle(l.contour))
    .map((l) => (2 * (l.contour.segments[0] as Arc).radius) / factor);
  return {
    width: empty ? 0 : (box.max.x - box.min.x) / factor,
    height: empty ? 0 : (box.max.y - box.min.y) / factor,
    diameters: [...new Set(round.map((d) => Number(d.toPrecision(6))))].sort((a, b) => a - b),
  };
}

/** "76.2 × 38.1 mm, round holes 3.002 mm" under a factor. */
export function reading(m: Measure, factor: number): string {
  const mm = (v: number): string => String(Number((v * factor).toFixed(3)));
  const size = `${mm(m.width)} × ${mm(m.height)} mm`;
  if (m.diameters.length === 0) return size;
  const shown = m.diameters.slice(0, 4).map(mm).join(", ");
  return `${size}, round holes ${shown}${m.diameters.length > 4 ? " …" : ""} mm`;
}

export function unitFindings(
  file: string,
  units: Units,
  m: Measure,
  options: ReadOptions,
  perInch?: number | undefined,
): Finding[] {
  if (options.units !== undefined || (m.width === 0 && m.height === 0)) return [];
  const place = { drawing: { file } };
  if (units.declared === null) {
    const data = { asMm: reading(m, 1), asInch: reading(m, 25.4) };
    return [reportDrawing("unit-unknown", data, place)];
  }
  if (perInch !== undefined) {
    // The factor rests on perInch; another resolution scales it.
    const at = (n: number): string => reading(m, (units.factor * perInch) / n);
    const data = { perInch, as96: at(96), as90: at(90), as72: at(72), asMm: reading(m, 1) };
    return [reportDrawing("px-assumed", data, place)];
  }
  const other = betterUnit(units, m);
  if (other === undefined) return [];
  const data = {
    declared: units.declared,
    asDeclared: reading(m, units.factor),
    other,
    asOther: reading(m, FACTORS[other]),
  };
  return [reportDrawing("unit-doubtful", data, place)];
}

/** A unit that gives a plate where the declared one does not. */
function betterUnit(units: Units, m: Measure): LengthUnit | undefined {
  if (plausible(m, units.factor)) return undefined;
  return (["mm", "in", "cm", "m"] as const).find(
    (u) => Math.abs(FACTORS[u] - units.factor) > 1e-6 * units.factor && plausible(m, FACTORS[u]),
  );
}

const SIDE_LEAST = 8;
const SIDE_MOST = 1200;
const HOLE_LEAST = 0.8;
const HOLE_MOST = 40;

function plausible(m: Measure, factor: number): boolean {
  const side = Math.max(m.width, m.height) * factor;
  if (side < SIDE_LEAST || side > SIDE_MOST) return false;
  // The lower one of two: lightening holes are of any size, screw holes are not.
  const middle = m.diameters[(m.diameters.length - 1) >> 1];
  if (middle === undefined) return true;
  const hole = middle * factor;
  return hole >= HOLE_LEAST && hole <= HOLE_MOST;
}
