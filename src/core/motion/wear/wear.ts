/**
 * What a program does to its cutter, from the trace: metres cut, metres of plate edge, rubbing, share of
 * its life.
 *
 * cutMetres: way of the centre below the sheet's top, every pass counted. edgeMetres: the length of a
 * full-width slot through the sheet of the same volume (engaged.ts), so that six passes round a plate count once. Life figures are metres of edge in plate of 2–3 mm: wearMetres are the edgeMetres in that measure, and
 * what life is counted in.
 * rubbingMetres: how far each edge slides in the cut, as if every pass were at full width: half a turn of
 * the circumference for each feed per revolution.
 */
import { type Cutter, effectiveDiameter } from "../../cutting/cutter.ts";
import { LIFE_SHEETS, type Life, lifeOf, lifeWeight } from "../../cutting/data/life.ts";
import { cite } from "../../cutting/data/source.ts";
import { rubbingPerMetre } from "../../cutting/physics/formulas.ts";
import { hypot } from "../../geometry/trig.ts";
import type { Trace, TraceMove } from "../../program/read/trace.ts";
import { engage, goneOver, newChart, type Way } from "./engaged.ts";

export interface WearSheet {
  /** Z of the sheet's top in program coordinates: 0, or the thickness where zero is the spoilboard. */
  readonly top: number;
  readonly thickness: number;
}

export interface Wear {
  readonly cutMetres: number;
  readonly edgeMetres: number;
  readonly wearMetres: number;
  readonly rubbingMetres: number;
  readonly lifeMetres: number;
  /** wearMetres ÷ lifeMetres; 1 is a whole cutter. */
  readonly lifeUsed: number;
  /** The same at the ends of the life table's range. */
  readonly lifeUsedLeast: number;
  readonly lifeUsedMost: number;
  /** mm; absent where the cutter does not say what it loses over its life. */
  readonly diameterLoss?: number | undefined;
  /** Metres of edge by step of the trace, for splitting between plates: of passes over one way, all at the deepest. */
  readonly stepEdge: Float64Array;
  readonly assumptions: readonly string[];
}

export interface WearOptions {
  /** Life that earlier cutters of this name were measured to have, wearMetres. */
  readonly measuredLife?: number | undefined;
}

export function wearOf(
  trace: Trace,
  cutter: Cutter,
  sheet: WearSheet,
  options: WearOptions = {},
): Wear {
  const chart = newChart(effectiveDiameter(cutter), sheet.top, sheet.thickness);
  const stepEdge = new Float64Array(trace.steps.length);
  let cut = 0;
  let edge = 0;
  let rubbing = 0;
  const places: number[] = [];
  const feeds = trace.steps.filter((step, i): step is TraceMove => {
    if (step.kind === "feed") places.push(i);
    return step.kind === "feed";
  });
  const again = goneOver(feeds);
  feeds.forEach((step, k) => {
    const length = lengthOf(step);
    if (!(length > 0 && length < Number.POSITIVE_INFINITY)) return;
    if (again[k] === 0) {
      const metres = engage(chart, step, length) / sheet.thickness / 1000;
      stepEdge[places[k] as number] = metres;
      edge += metres;
    }
    const below = length * shareBelow(step, sheet.top);
    cut += below / 1000;
    if (step.feed > 0 && step.rpm > 0) {
      rubbing += ((below / 1000) * rubbingPerMetre(cutter.diameter, step.feed / step.rpm)) / 1000;
    }
  });
  const life = lifeFor(cutter, options);
  const worn = edge * lifeWeight(sheet.thickness);
  return {
    cutMetres: cut,
    edgeMetres: edge,
    wearMetres: worn,
    rubbingMetres: rubbing,
    lifeMetres: life.metres,
    lifeUsed: worn / life.metres,
    lifeUsedLeast: worn / life.most,
    lifeUsedMost: worn / life.least,
    ...(cutter.diameterLoss === undefined
      ? {}
      : { diameterLoss: (worn / life.metres) * cutter.diameterLoss }),
    stepEdge,
    assumptions: assumptionsOf(cutter, sheet, life, options),
  };
}

/** Measured before the user's figure, that before the table's. */
export function lifeFor(cutter: Cutter, { measuredLife }: WearOptions): Life {
  return lifeOf(measuredLife === undefined ? cutter : { ...cutter, lifeMetres: measuredLife });
}

function assumptionsOf(
  cutter: Cutter,
  { thickness }: WearSheet,
  life: Life,
  { measuredLife }: WearOptions,
): readonly string[] {
  const [thin, thick] = LIFE_SHEETS;
  const weight = lifeWeight(thickness);
  const range = life.least < life.most ? ` (${life.least}–${life.most})` : "";
  const rest = measuredLife === undefined ? cite(life.source) : lifeRatio(cutter, measuredLife);
  return [
    `Life of ${cutter.name}: ${Number(life.metres.toFixed(2))} m of edge${range}: ${rest}.`,
    "Metres of edge are of full-width slot of the same volume: several passes over an edge count once, a finishing pass next to nothing. Rubbing is counted as if every pass were at full width.",
    ...(weight === 1
      ? []
      : [
          `Life is for sheets of ${thin}–${thick} mm: a metre of edge in ${Number(thickness.toFixed(3))} mm counts as ${Number(weight.toFixed(2))} m (derived).`,
        ]),
  ];
}

function lifeRatio(cutter: Cutter, measured: number): string {
  const planned = lifeOf(cutter).metres;
  return `measured at the end of earlier ones, ${Number((measured / planned).toFixed(2))} times the ${planned} m that were planned`;
}

export function lengthOf(move: Way): number {
  const dz = move.z1 - move.z0;
  return move.arc === undefined
    ? hypot(hypot(move.x1 - move.x0, move.y1 - move.y0), dz)
    : hypot(move.arc.sweep * move.arc.radius, dz);
}

/** Share of a move that lies below the sheet's top. */
function shareBelow(move: TraceMove, top: number): number {
  const low = Math.min(move.z0, move.z1);
  const high = Math.max(move.z0, move.z1);
  if (high <= top) return low < top ? 1 : 0;
  return low >= top ? 0 : (top - low) / (high - low);
}
