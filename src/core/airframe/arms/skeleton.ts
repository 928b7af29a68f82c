/**
 * Where the motors stand and how the arms run to them: the layouts, and the size that the driving value gives.
 *
 * Every layout is drawn once for half a wheelbase of 1 and scaled. An arm runs along its *axis* from its
 * *anchor* on the body's middle line to the motor. Motors are numbered from the front right one,
 * counter-clockwise.
 */
import { angleOf, distance } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { cos, radians, sin, tan } from "../../geometry/trig.ts";
import type { AirframeSpec, LayoutName } from "../file/schema.ts";

export interface Axis {
  readonly anchor: Point;
  readonly motor: Point;
  /** Direction of the arm, rad. */
  readonly angle: number;
  /** From anchor to motor. */
  readonly length: number;
}

export interface Skeleton {
  readonly wheelbase: number;
  readonly axes: readonly Axis[];
  /** Least distance between two propeller discs. */
  readonly clearance: number;
  /** The wheelbase that the wanted clearance asks for. */
  readonly wheelbaseWanted: number;
}

interface Place {
  readonly motor: Point;
  readonly anchor: Point;
}

export function skeletonOf(spec: AirframeSpec): Skeleton {
  const unit = PLACES[spec.layout](spec);
  const near = nearest(unit.map((p) => p.motor));
  const { diameter, clearance } = spec.propeller;
  const wheelbaseWanted = (2 * (diameter + clearance)) / near;
  const wheelbase = spec.wheelbase ?? wheelbaseWanted;
  const k = wheelbase / 2;
  const axes = unit.map(({ motor, anchor }) => axis(scaled(anchor, k), scaled(motor, k)));
  return { wheelbase, axes, clearance: k * near - diameter, wheelbaseWanted };
}

function scaled(p: Point, k: number): Point {
  return { x: p.x * k, y: p.y * k };
}

function axis(anchor: Point, motor: Point): Axis {
  return { anchor, motor, angle: angleOf(anchor, motor), length: distance(anchor, motor) };
}

const MIDDLE: Point = { x: 0, y: 0 };

const PLACES: Readonly<Record<LayoutName, (spec: AirframeSpec) => Place[]>> = {
  x: () => box(1).map((motor) => ({ motor, anchor: MIDDLE })),
  "stretched-x": (spec) => box(spec.stretch).map((motor) => ({ motor, anchor: MIDDLE })),
  h: (spec) => box(spec.stretch).map((motor) => ({ motor, anchor: { x: 0, y: motor.y } })),
  "offset-front": offsetFront,
  plus: () => round(4, 0),
  hexa: () => round(6, 0),
  tri: () => round(3, 30),
};

/** Corners of a box of this length over width, on the unit circle. */
function box(stretch: number): Point[] {
  const x = 1 / Math.sqrt(1 + stretch * stretch);
  const y = stretch * x;
  return [
    { x, y },
    { x: -x, y },
    { x: -x, y: -y },
    { x, y: -y },
  ];
}

function round(count: number, firstDeg: number): Place[] {
  return Array.from({ length: count }, (_, i) => {
    const a = radians(firstDeg + (360 * i) / count);
    return { motor: { x: cos(a), y: sin(a) }, anchor: MIDDLE };
  });
}

/** The front arms start ahead of the stack and swing out, so that no propeller is in the camera's sight. */
function offsetFront({ spread, forward, sweepDeg }: AirframeSpec): Place[] {
  // From front left to rear right is the wheelbase, 2.
  const k = 2 / Math.sqrt((1 + spread) ** 2 + (1 + forward) ** 2);
  const front = { x: spread * k, y: forward * k };
  const start = Math.max(0, front.y - front.x * tan(radians(sweepDeg)));
  const ahead = { x: 0, y: start };
  return [
    { motor: front, anchor: ahead },
    { motor: { x: -front.x, y: front.y }, anchor: ahead },
    { motor: { x: -k, y: -k }, anchor: MIDDLE },
    { motor: { x: k, y: -k }, anchor: MIDDLE },
  ];
}

function nearest(points: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (const [i, p] of points.entries()) {
    for (const q of points.slice(i + 1)) best = Math.min(best, distance(p, q));
  }
  return best;
}
