/** Contours to and from plan.json. Coordinates are written to 1e-7 mm: ten times below what rounding could show. */
import { arc, line } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import type { ContourJson, PointJson, SegmentJson } from "../plan-json.ts";

export function pointJson(p: Point): PointJson {
  return [neat(p.x), neat(p.y)];
}

/** Rounded, and never −0. */
export function neat(value: number): number {
  return Math.round(value * 1e7) / 1e7 + 0;
}

export function contourJson(contour: Contour): ContourJson {
  const first = contour.segments[0] as Segment;
  return { start: pointJson(first.from), segments: contour.segments.map(segmentJson) };
}

function segmentJson(s: Segment): SegmentJson {
  const origin = s.origin === undefined ? {} : { origin: s.origin };
  if (s.kind === "line") return { to: pointJson(s.to), ...origin };
  return { to: pointJson(s.to), centre: pointJson(s.centre), ccw: s.sweep > 0, ...origin };
}

export function contourOf(json: ContourJson): Contour {
  const start = pointOf(json.start);
  let from = start;
  const segments = json.segments.map((s, i): Segment => {
    const last = i === json.segments.length - 1;
    const to = last ? start : pointOf(s.to);
    const made =
      "centre" in s ? arc(from, to, pointOf(s.centre), s.ccw, s.origin) : line(from, to, s.origin);
    from = to;
    return made;
  });
  return { segments };
}

export function pointOf([x, y]: PointJson): Point {
  return { x, y };
}
