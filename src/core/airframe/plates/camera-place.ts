/**
 * Where the camera sides stand: ahead of the boards and clear of arms that lie on the deck, as far back as
 * that lets them, or where the file says. Slots of both plates and tabs of the sides are made from this alone.
 */

import { rectangle } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import { boxed, curveDistance, holds } from "../../layout/clearance.ts";
import type { CameraSpec } from "../file/schema.ts";
import type { Cutout, PlateMate } from "../model.ts";
import type { Setting } from "../setting.ts";
import { slotHole } from "../shape/build.ts";
import { boardSide } from "../sizes.ts";

export interface CameraPlace {
  readonly camera: CameraSpec;
  /** Thickness of the sides, and their middle planes at ±x. */
  readonly thickness: number;
  readonly x: number;
  /** Rear edge. */
  readonly y: number;
  /** From deck to the top plate's underside. */
  readonly height: number;
  /** Middles of the tabs, from the rear edge. */
  readonly lowerTabs: readonly number[];
  readonly upperTab: number;
  readonly slot: { readonly width: number; readonly length: number };
  /** From the middle to the edge of the plates beside the slots. */
  readonly halfWidth: number;
}

/** Between camera and side, each side, mm. */
export const CAMERA_PLAY = 0.1;
/** Sides keep this far from boards and arms, mm. */
const AHEAD = 1.5;
/** Material beside and ahead of the slots, mm. */
export const SLOT_RIM = 3;

export function cameraPlace(s: Setting, arms: readonly Contour[]): CameraPlace | undefined {
  const { camera, top } = s.spec;
  if (camera === undefined || top === undefined) return undefined;
  const thickness = s.thickness(camera.sheet);
  const x = camera.width / 2 + CAMERA_PLAY + thickness / 2;
  const width = thickness + camera.clearance;
  // Straight part and round ends, as the fit that the job asks for makes it.
  const length = camera.tab + camera.clearance + width;
  const y = camera.from ?? nearestPlace(s, arms, x + thickness / 2, camera.length);
  const two = camera.length >= 2 * (length + SLOT_RIM) + 2 * SLOT_RIM;
  const inset = SLOT_RIM + length / 2;
  return {
    camera,
    thickness,
    x,
    y,
    height: s.levels.topUnder - s.levels.deck,
    lowerTabs: two ? [inset, camera.length - inset] : [camera.length / 2],
    upperTab: camera.length / 2,
    slot: { width, length },
    halfWidth: x + width / 2 + SLOT_RIM,
  };
}

function nearestPlace(s: Setting, arms: readonly Contour[], half: number, length: number): number {
  const h = s.spec.layout === "h" ? (s.arms[0]?.axis.anchor.y ?? 0) : 0;
  const start =
    Math.max(boardSide(s.spec) / 2, h + (s.separate ? 0 : s.spec.arms.root / 2)) + AHEAD;
  const inWay = arms.map(boxed);
  for (let y = Math.ceil(2 * start) / 2; y < start + 150; y += 0.5) {
    const foot = boxed(rectangle(-half, y, half, y + length));
    const free = inWay.every(
      (a) => curveDistance(foot, a, AHEAD) >= AHEAD - 1e-9 && !holds(foot, a) && !holds(a, foot),
    );
    if (free) return y;
  }
  return start;
}

/** Slots of a plate for tabs at these places along the sides. */
export function cameraSlots(c: CameraPlace, tabs: readonly number[]): Cutout[] {
  return tabs.flatMap((tab, i) =>
    [1, -1].map((side) => ({
      name: `camera slot ${i + 1} ${side > 0 ? "right" : "left"}`,
      contour: slotHole({
        at: { x: side * c.x, y: c.y + tab },
        ...c.slot,
        angle: Math.PI / 2,
      }),
      parameter: "camera.tab",
    })),
  );
}

export function cameraMates(c: CameraPlace, tabs: readonly number[]): PlateMate[] {
  return tabs.flatMap((tab) =>
    [1, -1].map((side) => ({
      slot: { x: side * c.x, y: c.y + tab },
      of: "camera-side",
      clearance: c.camera.clearance,
    })),
  );
}

/** How far forward a plate must reach for a slot at this place along the sides. */
export function slotFront(c: CameraPlace, tab: number): number {
  return c.y + tab + c.slot.length / 2 + SLOT_RIM;
}
