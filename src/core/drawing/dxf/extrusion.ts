/**
 * Object coordinate systems: an entity's own X and Y in the drawing's plane.
 *
 * The axes follow from the extrusion by the arbitrary axis algorithm (DXF reference, "Object Coordinate
 * Systems"). An entity whose plane is not the drawing's, or its mirror image, does not lie flat: a plate
 * cannot be had from it, so it is told and left out instead of being squashed.
 */
import { hypot } from "../../geometry/trig.ts";
import { type Affine, IDENTITY } from "../curve/affine.ts";
import { type Entity, number } from "./document.ts";

/** How far, in sine, an extrusion may lean and still count as straight up or down: 0.1 mrad. */
const UPRIGHT = 1e-4;
/** Below this in X and Y the normal counts as Z's own: 1/64, from the reference. */
const NEAR_Z = 1 / 64;

/** From the entity's frame to the drawing's plane; undefined where the entity does not lie flat. */
export function extrusionFrame(e: Entity): Affine | undefined {
  const at = e.codes.indexOf(230);
  if (at < 0 && e.codes.indexOf(210) < 0 && e.codes.indexOf(220) < 0) return IDENTITY;
  const x = number(e, 210, 0);
  const y = number(e, 220, 0);
  const z = number(e, 230, at < 0 ? 0 : 1);
  const length = Math.sqrt(x * x + y * y + z * z);
  // A zero vector says nothing: writers that leave it so mean the plane.
  if (length < 1e-12) return IDENTITY;
  if (hypot(x, y) / length > UPRIGHT) return undefined;
  return frameOf(x / length, y / length, z / length);
}

function frameOf(nx: number, ny: number, nz: number): Affine | undefined {
  if (Math.abs(nx) >= NEAR_Z || Math.abs(ny) >= NEAR_Z) return undefined;
  // X = Y-axis × N, of which the plane sees (nz, ·); for N = (0, 0, ±1) this is (±1, 0) with Y kept.
  return nz > 0 ? IDENTITY : { ...IDENTITY, a: -1 };
}
