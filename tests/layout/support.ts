/** Plates, sheets and an oracle for the layout's tests. */

import { drawn } from "../../fixtures/demo/make.ts";
import type { Entity, Vertex } from "../../fixtures/demo/pen.ts";
import {
  bounds,
  centroid,
  flatten,
  oriented,
  perimeter,
  signedArea,
} from "../../src/core/geometry/contour.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point, Segment } from "../../src/core/geometry/shape.ts";
import type { Placement, Sheet } from "../../src/core/layout/layout.ts";
import type { Feature, Plate } from "../../src/core/plate/plate.ts";

export function plateOf(name: string, outer: Contour, windows: readonly Contour[] = []): Plate {
  const features = windows.map((contour, id): Feature => featureOf(contour, id));
  const ccw = oriented(outer, true);
  return {
    name,
    drawing: `${name}.dxf`,
    outer: ccw,
    features,
    area: signedArea(ccw) - features.reduce((sum, f) => sum + f.area, 0),
    perimeter: perimeter(ccw),
    bounds: bounds(ccw),
  };
}

function featureOf(contour: Contour, id: number): Feature {
  const cw = oriented(contour, false);
  const first = cw.segments[0];
  const base = { id, contour: cw, area: -signedArea(cw) };
  if (cw.segments.length === 1 && first?.kind === "arc") {
    return { ...base, kind: "hole", at: first.centre, diameter: 2 * first.radius };
  }
  const caps = cw.segments.filter((s) => s.kind === "arc" && Math.abs(s.sweep + Math.PI) < 1e-6);
  const sides = cw.segments.filter((s) => s.kind === "line");
  if (cw.segments.length !== 4 || caps.length !== 2 || sides.length !== 2) {
    return { ...base, kind: "window", at: centroid(cw) };
  }
  const [cap] = caps as [Segment & { kind: "arc" }];
  const [side] = sides as [Segment];
  const dx = side.to.x - side.from.x;
  const dy = side.to.y - side.from.y;
  const width = 2 * cap.radius;
  return {
    ...base,
    kind: "slot",
    at: centroid(cw),
    width,
    length: Math.hypot(dx, dy) + width,
    angle: (Math.atan2(dy, dx) + Math.PI) % Math.PI,
  };
}

/** What the demo's pen drew, without going through DXF. */
export function contourOf(entity: Entity): Contour {
  if (entity.kind === "circle") {
    return { segments: [circle({ x: entity.x, y: entity.y }, entity.d / 2, true)] };
  }
  const { vertices } = entity;
  const at = vertices.map((v): Point => ({ x: v.x, y: v.y }));
  return {
    segments: vertices.map((v, i) => {
      const from = at[i] as Point;
      const to = at[(i + 1) % at.length] as Point;
      return v.bulge === 0 ? line(from, to) : bulged(v, from, to);
    }),
  };
}

function bulged(v: Vertex, from: Point, to: Point): Segment {
  const k = (1 / v.bulge - v.bulge) / 4;
  const centre = {
    x: (from.x + to.x) / 2 - (to.y - from.y) * k,
    y: (from.y + to.y) / 2 + (to.x - from.x) * k,
  };
  return arc(from, to, centre, v.bulge > 0);
}

export function demoPlate(name: string): Plate {
  const [outer, ...inner] = drawn()[`${name}.dxf`]?.entities ?? [];
  if (outer === undefined) throw new Error(`no drawing ${name}`);
  return plateOf(name, contourOf(outer), inner.map(contourOf));
}

export function sheetOf(outline: Contour, more: Partial<Sheet> = {}): Sheet {
  return {
    name: "s",
    material: "carbon-woven",
    thickness: 2,
    outline,
    fibreDeg: 0,
    margin: 6,
    keepOuts: [],
    ...more,
  };
}

/** Chords this near their arcs; distances by points and chords are then right within twice that. */
export const ORACLE_TOLERANCE = 0.01;

export function points(contour: Contour): Point[] {
  return flatten(contour, ORACLE_TOLERANCE);
}

/** Distance between two polygons' edges by brute force; 0 where they cross. */
export function polygonDistance(a: readonly Point[], b: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < a.length; i++) {
    const p = a[i] as Point;
    const q = a[(i + 1) % a.length] as Point;
    for (let j = 0; j < b.length; j++) {
      const r = b[j] as Point;
      const s = b[(j + 1) % b.length] as Point;
      best = Math.min(best, toEdge(p, r, s), toEdge(r, p, q));
      if (parted(turn(p, q, r), turn(p, q, s)) && parted(turn(r, s, p), turn(r, s, q))) return 0;
    }
  }
  return best;
}

/**
 * On two sides of a line, by more than rounding, mm²: edges on one line are to either side of it by chance. What
 * ends on an edge is found by its distance.
 */
function parted(a: number, b: number): boolean {
  return Math.min(a, b) < -1e-7 && Math.max(a, b) > 1e-7;
}

function turn(a: Point, b: Point, p: Point): number {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

function toEdge(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1);
  const u = Math.min(1, Math.max(0, t));
  return Math.hypot(p.x - a.x - u * dx, p.y - a.y - u * dy);
}

export function inPolygon(p: Point, polygon: readonly Point[]): boolean {
  let inside = false;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length] as Point;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) {
      inside = !inside;
    }
  });
  return inside;
}

/** Filled shapes: 0 where one holds the other. */
export function shapeDistance(a: Placement, b: Placement): number {
  const [p, q] = [points(a.outer), points(b.outer)];
  if (inPolygon(p[0] as Point, q) || inPolygon(q[0] as Point, p)) return 0;
  return polygonDistance(p, q);
}
