/**
 * Is a drawn plate clean? Looked at from the finished contours alone, so that no builder's mistake and no
 * odd number passes: nothing crosses, no web is thinner than can be cut, no screw tears out, every opening is
 * wider than the cutter. Each finding names the key of the airframe file whose number to change.
 *
 * Cost: O(n²) in the plate's segments whose boxes are near.
 */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayAirframe } from "../finding/say-airframe.ts";
import { boxesTouch, contains, distanceTo, isCircle, signedArea } from "../geometry/contour.ts";
import { meetings } from "../geometry/intersect.ts";
import { offsetRings } from "../geometry/offset.ts";
import { boxOf, distance, lengthOf } from "../geometry/segment.ts";
import type { Contour, Point } from "../geometry/shape.ts";
import { type Boxed, boxed, curveDistance } from "../layout/clearance.ts";
import type { AirframePlate, Cutout } from "./model.ts";
import { LEAST_EDGE, LEAST_WEB } from "./sizes.ts";

const say = reporter(sayAirframe);

/** Where the outline is at fault: the key that shapes it there. */
export interface AuditContext {
  /** Widest diameter that still gets into every opening, mm: of the thinnest cutter. */
  readonly cutter: number;
  readonly outlineKey: string;
  readonly placeOf: (parameter: string) => { line: number; column: number; file: string };
}

export function audit(plate: AirframePlate, context: AuditContext): Finding[] {
  const outer = boxed(plate.outer);
  const cutouts = plate.cutouts.map((c) => ({ cutout: c, shape: boxed(c.contour) }));
  const report = reporterFor(plate, context);
  const findings: Finding[] = [];
  if (crossesItself(plate.outer)) {
    findings.push(report("outline-crosses", context.outlineKey, { plate: plate.name }));
    return findings;
  }
  findings.push(...neck(plate, report, context));
  cutouts.forEach((a, i) => {
    findings.push(...toEdge(a, outer, plate, report), ...size(a.cutout, context, report));
    for (const b of cutouts.slice(i + 1)) findings.push(...between(a, b, report));
  });
  return onePerPair(findings);
}

type Report = (
  code:
    | "outline-crosses"
    | "web-thin"
    | "screw-near-edge"
    | "too-narrow"
    | "outside-plate"
    | "neck-thin",
  parameter: string,
  data: Readonly<Record<string, number | string>>,
  at?: Point,
) => Finding;

function reporterFor(plate: AirframePlate, context: AuditContext): Report {
  return (code, parameter, data, at) => {
    const { line, column, file } = context.placeOf(parameter);
    const all = { plate: plate.name, parameter, line, column, ...data };
    return say(code, all as never, {
      plate: plate.name,
      drawing: { file, line },
      ...(at === undefined ? {} : { at: [at.x, at.y] as const }),
    });
  };
}

interface Shaped {
  readonly cutout: Cutout;
  readonly shape: Boxed;
}

/** Distances are exact but for the rounding of coordinates, mm. */
const SLACK = 0.01;

function toEdge(
  { cutout, shape }: Shaped,
  outer: Boxed,
  plate: AirframePlate,
  report: Report,
): Finding[] {
  const p = middleOf(cutout.contour);
  const from = cutout.contour.segments[0]?.from ?? p;
  const web = curveDistance(shape, outer, 20);
  if (web <= SLACK || !contains(plate.outer, from)) {
    return [report("outside-plate", cutout.parameter, { what: cutout.name }, p)];
  }
  if (cutout.screwHole !== undefined) {
    const edge = distanceTo(plate.outer, p);
    const wanted = LEAST_EDGE * cutout.screwHole;
    if (edge < wanted - SLACK) {
      const data = { what: cutout.name, edge, wanted, hole: cutout.screwHole };
      return [report("screw-near-edge", cutout.parameter, data, p)];
    }
  }
  if (web >= LEAST_WEB - SLACK) return [];
  const data = { what: cutout.name, other: "the edge", otherParameter: "", web, wanted: LEAST_WEB };
  return [report("web-thin", cutout.parameter, data, p)];
}

function between(a: Shaped, b: Shaped, report: Report): Finding[] {
  if (!boxesTouch(a.shape.box, b.shape.box, LEAST_WEB)) return [];
  const nested = contains(a.cutout.contour, startOf(b)) || contains(b.cutout.contour, startOf(a));
  const web = nested ? 0 : curveDistance(a.shape, b.shape, LEAST_WEB);
  if (web >= LEAST_WEB - SLACK) return [];
  // Cutouts come with the most needful first: the later one is the one to change.
  const { name: other, parameter: otherParameter } = a.cutout;
  const data = { what: b.cutout.name, other, otherParameter, web, wanted: LEAST_WEB };
  return [report("web-thin", b.cutout.parameter, data, middleOf(b.cutout.contour))];
}

function startOf({ cutout }: Shaped): Point {
  return cutout.contour.segments[0]?.from ?? { x: 0, y: 0 };
}

/** Can the thinnest cutter get in and leave the shape as drawn? */
function size(cutout: Cutout, { cutter }: AuditContext, report: Report): Finding[] {
  const first = cutout.contour.segments[0];
  if (isCircle(cutout.contour) && first?.kind === "arc" && first.radius > cutter / 2 - SLACK) {
    return [];
  }
  const room = offsetRings([cutout.contour], cutter / 2 - SLACK);
  const data = { what: cutout.name, cutter };
  const at = middleOf(cutout.contour);
  if (room.filter((r) => signedArea(r) < 0).length === 1) return [];
  return [report("too-narrow", cutout.parameter, data, at)];
}

/** A neck thinner than the least web: shrunk by half of it, the plate falls apart or is gone. */
function neck(plate: AirframePlate, report: Report, context: AuditContext): Finding[] {
  const shrunk = offsetRings([plate.outer], -LEAST_WEB);
  if (shrunk.length === 1) return [];
  return [report("neck-thin", context.outlineKey, { wanted: 2 * LEAST_WEB, parts: shrunk.length })];
}

function middleOf(contour: Contour): Point {
  const s = contour.segments[0];
  if (s?.kind === "arc" && contour.segments.length === 1) return s.centre;
  const points = contour.segments.map((p) => p.from);
  const n = Math.max(1, points.length);
  return {
    x: points.reduce((sum, p) => sum + p.x, 0) / n,
    y: points.reduce((sum, p) => sum + p.y, 0) / n,
  };
}

/** Do two segments that are no neighbours meet, or neighbours elsewhere than where they join? */
export function crossesItself({ segments }: Contour): boolean {
  const boxes = segments.map(boxOf);
  const n = segments.length;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const [a, b] = [segments[i], segments[j]];
      const [p, q] = [boxes[i], boxes[j]];
      if (a === undefined || b === undefined || p === undefined || q === undefined) continue;
      if (!boxesTouch(p, q)) continue;
      const joints = [...(j === i + 1 ? [a.to] : []), ...(i === 0 && j === n - 1 ? [a.from] : [])];
      const near = Math.min(0.02, lengthOf(a) / 3, lengthOf(b) / 3);
      if (meetings(a, b).some((m) => joints.every((k) => distance(k, m.point) > near))) return true;
    }
  }
  return false;
}

/** Four alike screws that are all too near the edge have one cause. */
function onePerPair(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter((f) => {
    const key = JSON.stringify([f.code, f.data["parameter"], f.data["otherParameter"] ?? ""]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
