/** The motor's mount: holes on a bolt circle, in a square or in two pairs, and the hole for its shaft. */
import { onCircle } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { radians, TAU } from "../../geometry/trig.ts";
import { clearanceHole } from "../../plate/screw.ts";
import type { AirframeSpec } from "../file/schema.ts";
import type { Cutout } from "../model.ts";
import { hole, slotHole } from "../shape/build.ts";
import { EDGE } from "../sizes.ts";

interface Spoke {
  readonly radius: number;
  /** Against the arm, rad. */
  readonly angle: number;
}

/** Where the screws are, seen from the motor's middle. */
function spokes({ boltCircle, side, pairs, holes, turnDeg }: AirframeSpec["motor"]): Spoke[] {
  const turn = radians(turnDeg);
  if (pairs !== undefined) {
    return [0, 1, 2, 3].map((i) => ({
      radius: (pairs[i % 2] as number) / 2,
      angle: turn + (i * TAU) / 4,
    }));
  }
  const radius = (boltCircle ?? (side ?? 0) * Math.SQRT2) / 2;
  return Array.from({ length: holes }, (_, i) => ({ radius, angle: turn + (i * TAU) / holes }));
}

/** The key that says where the holes are. */
export function patternKey({ pairs, boltCircle }: AirframeSpec["motor"]): string {
  return pairs !== undefined
    ? "motor.pairs"
    : boltCircle !== undefined
      ? "motor.boltCircle"
      : "motor.side";
}

/** What people call the pattern. */
export function patternName({
  pairs,
  boltCircle,
  side,
  holes,
  screw,
}: AirframeSpec["motor"]): string {
  if (pairs !== undefined) return `4 × ${screw}, ${pairs[0]} × ${pairs[1]} mm across`;
  if (boltCircle !== undefined) return `${holes} × ${screw} on a bolt circle of ${boltCircle} mm`;
  return `${holes} × ${screw} in a square of ${side ?? 0} mm`;
}

/** From the motor's middle to the far end of the furthest hole. */
export function mountReach(spec: AirframeSpec): number {
  const d = clearanceHole(spec.motor.screw, spec.fit);
  return Math.max(...spokes(spec.motor).map((s) => s.radius)) + (d + spec.motor.slot) / 2;
}

/** Material beyond the holes, in holes: their middles are then two holes from the edge. */
const PAD_RIM = EDGE - 0.5;

export function padRadius(spec: AirframeSpec): number {
  const d = clearanceHole(spec.motor.screw, spec.fit);
  return (spec.motor.pad ?? Math.ceil(2 * (mountReach(spec) + PAD_RIM * d))) / 2;
}

/** The mount's cutouts round `at`, for an arm that runs in the direction `angle`. */
export function mount(spec: AirframeSpec, at: Point, angle: number, name: string): Cutout[] {
  const { motor } = spec;
  const d = clearanceHole(motor.screw, spec.fit);
  const parameter = patternKey(motor);
  const screws = spokes(motor).map((s, i): Cutout => {
    const spot = onCircle(at, s.radius, angle + s.angle);
    const contour =
      motor.slot > 0
        ? slotHole({ at: spot, width: d, length: d + motor.slot, angle: angle + s.angle })
        : hole(spot, d);
    return { name: `${name} screw ${i + 1}`, contour, parameter, screwHole: d };
  });
  if (motor.relief <= 0) return screws;
  const relief = hole(at, motor.relief);
  return [...screws, { name: `${name} relief`, contour: relief, parameter: "motor.relief" }];
}
