/**
 * An airframe as plates: what each is cut to, how often, from which sheet, and where it sits.
 *
 * Words: the *airframe frame* has X right, Y forward, Z up from the bottom plate's underside, its origin in the
 * middle of the stack. A plate's own frame is its drawing's. A *stand* is one copy in its place. A *cutout*
 * is a hole, slot or window with the key of the airframe file that it comes from. mm, rad, g.
 */
import type { Contour, Point, Rigid } from "../geometry/shape.ts";

export type Role = "bottom" | "arm" | "clamp" | "top" | "camera-side" | "bracket";

export interface NamedPoint {
  readonly name: string;
  readonly at: Point;
}

export interface Cutout {
  readonly name: string;
  /** Clockwise. */
  readonly contour: Contour;
  /** Key of the airframe file that it comes from, `stack.side`. */
  readonly parameter: string;
  /** Diameter of the hole that a screw goes through. */
  readonly screwHole?: number | undefined;
}

/** Flat: plate frame to airframe frame, and the height of the underside. Upright: plate x goes forward, y up. */
export type Stand =
  | { readonly kind: "flat"; readonly plateToFrame: Rigid; readonly z: number }
  | {
      readonly kind: "upright";
      /** Middle of its thickness. */
      readonly x: number;
      readonly y: number;
      readonly z: number;
    }
  | {
      /** Plate x goes right, plate y up and, leaning, back. */
      readonly kind: "leaning";
      readonly y: number;
      readonly z: number;
      /** From upright, rad. */
      readonly lean: number;
    };

export interface PlateMate {
  readonly slot: Point;
  readonly of: string;
  readonly clearance: number;
}

export interface AirframePlate {
  readonly name: string;
  readonly role: Role;
  readonly sheet: string;
  /** As measured where somebody did. */
  readonly thickness: number;
  /** Counter-clockwise. */
  readonly outer: Contour;
  readonly cutouts: readonly Cutout[];
  readonly points: readonly NamedPoint[];
  /** Direction in the drawing that lies along the fibre; absent: free. */
  readonly fibreDeg?: number | undefined;
  readonly mates: readonly PlateMate[];
  /** One for each copy. */
  readonly stands: readonly Stand[];
  /** What lightening took out of each copy, mm². */
  readonly lightened: number;
}

/** A standoff that carries the top plate. */
export interface Standoff {
  readonly name: string;
  readonly at: Point;
  /** Underside, and how high it is. */
  readonly z: number;
  readonly height: number;
}

export interface Motor {
  readonly name: string;
  readonly at: Point;
  /** Upper face of what it stands on. */
  readonly z: number;
}
