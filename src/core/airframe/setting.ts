/**
 * What several plates must agree on, worked out once: thicknesses, heights, where standoffs, stack and camera
 * sides stand. Plates that share a feature take it from here, so they cannot drift apart.
 *
 * Words: the *deck* is the plate that carries standoff rows and camera sides: the clamp plate if there is
 * one, else the bottom plate.
 */
import { placePoint } from "../geometry/segment.ts";
import type { Point } from "../geometry/shape.ts";
import type { JobSheet } from "../job/job.ts";
import { clearanceHole } from "../plate/screw.ts";
import { padRadius } from "./arms/mount.ts";
import { type ArmRoot, armRoots, armToFrame, stackHoles } from "./arms/roots.ts";
import { type Axis, type Skeleton, skeletonOf } from "./arms/skeleton.ts";
import type { AirframeSpec } from "./file/schema.ts";
import type { Cutout, Standoff } from "./model.ts";
import { hole } from "./shape/build.ts";
import { boardSide, EDGE } from "./sizes.ts";

export interface Levels {
  /** Upper faces; the same where a plate is absent. */
  readonly bottom: number;
  readonly arms: number;
  readonly clamp: number;
  readonly deck: number;
  /** Underside and upper face of the top plate. */
  readonly topUnder: number;
  readonly top: number;
}

export interface Arm {
  readonly axis: Axis;
  /** Absent where the arms are one with the bottom plate. */
  readonly root?: ArmRoot | undefined;
}

export interface Setting {
  readonly spec: AirframeSpec;
  readonly skeleton: Skeleton;
  readonly arms: readonly Arm[];
  readonly thickness: (sheet: string) => number;
  readonly materialOf: (sheet: string) => JobSheet["material"];
  readonly levels: Levels;
  readonly pad: number;
  /** Middle of the outermost screws to the edge of bottom, clamp and top plate. */
  readonly rim: number;
  readonly standoffs: readonly Standoff[];
  readonly rows: readonly Point[];
  readonly separate: boolean;
}

/** So that rounding of coordinates leaves the full edge distance, mm. */
const RIM_PLAY = 0.05;

export function settingOf(spec: AirframeSpec, sheets: readonly JobSheet[]): Setting {
  const skeleton = skeletonOf(spec);
  const separate = spec.construction === "separate-arms";
  const roots = separate ? armRoots(spec, skeleton.axes) : [];
  const arms = skeleton.axes.map((axis, i) => ({ axis, root: roots[i] }));
  const sheetOf = (name: string): JobSheet | undefined => sheets.find((s) => s.name === name);
  const thickness = (name: string): number => {
    const sheet = sheetOf(name);
    return sheet?.measuredThickness ?? sheet?.thickness ?? 0;
  };
  const levels = levelsOf(spec, separate, thickness);
  const rows = spec.top === undefined ? [] : rowsOf(spec, skeleton.axes);
  return {
    spec,
    skeleton,
    arms,
    thickness,
    materialOf: (name) => sheetOf(name)?.material ?? "carbon-woven",
    levels,
    pad: padRadius(spec),
    rim: EDGE * clearanceHole(spec.standoffs.screw, spec.fit) + RIM_PLAY,
    standoffs: standoffsOf(spec, arms, rows, levels),
    rows,
    separate,
  };
}

function levelsOf(
  spec: AirframeSpec,
  separate: boolean,
  thickness: (sheet: string) => number,
): Levels {
  const bottom = thickness(spec.bottom.sheet);
  const arms = separate ? bottom + thickness(spec.arms.sheet ?? spec.bottom.sheet) : bottom;
  const clamp = separate && spec.clamp !== undefined ? arms + thickness(spec.clamp.sheet) : arms;
  const topUnder = clamp + spec.standoffs.height;
  const top = spec.top === undefined ? clamp : topUnder + thickness(spec.top.sheet);
  const deck = separate && spec.clamp !== undefined ? clamp : bottom;
  return { bottom, arms, clamp, deck, topUnder, top };
}

/** Rows of the file; one-piece plates without any get one ahead of the boards and one behind. */
function rowsOf(spec: AirframeSpec, axes: readonly Axis[]): Point[] {
  const { rows } = spec.standoffs;
  if (rows !== undefined) {
    return rows.flatMap(({ at, across }) =>
      across === 0
        ? [{ x: 0, y: at }]
        : [
            { x: across / 2, y: at },
            { x: -across / 2, y: at },
          ],
    );
  }
  if (spec.construction === "separate-arms") return [];
  const clear = boardSide(spec) / 2 + spec.standoffs.body / 2 + 0.5;
  const ahead = spec.layout === "h" ? Math.max(clear, axes[0]?.anchor.y ?? 0) : clear;
  const x = spec.stack.side / 2;
  return [
    { x, y: ahead },
    { x: -x, y: ahead },
    { x: -x, y: -ahead },
    { x, y: -ahead },
  ];
}

function standoffsOf(
  spec: AirframeSpec,
  arms: readonly Arm[],
  rows: readonly Point[],
  levels: Levels,
): Standoff[] {
  if (spec.top === undefined) return [];
  const onArms = arms.flatMap(({ axis, root }) =>
    root === undefined || !spec.standoffs.onArms
      ? []
      : [placePoint({ x: root.outer, y: 0 }, armToFrame(axis))],
  );
  const list = [
    ...onArms.map((at) => ({ at, z: levels.clamp })),
    ...rows.map((at) => ({ at, z: levels.deck })),
  ];
  return list.map(({ at, z }, i) => ({
    name: `standoff-${i + 1}`,
    at,
    z,
    height: levels.topUnder - z,
  }));
}

/** The screws of the stack, in every plate that they pass. */
export function stackCutouts({ spec }: Setting): Cutout[] {
  const { stack, fit } = spec;
  const d = clearanceHole(stack.screw, fit);
  const own = stackHoles(stack.side).map((at, i) => ({
    name: `stack ${i + 1}`,
    contour: hole(at, d),
    parameter: "stack.side",
    screwHole: d,
  }));
  if (stack.alternate === undefined) return own;
  const other = clearanceHole(stack.alternateScrew, fit);
  const second = stackHoles(stack.alternate).map((at, i) => ({
    name: `second stack ${i + 1}`,
    contour: hole(at, other),
    parameter: "stack.alternate",
    screwHole: other,
  }));
  return [...own, ...second];
}

/** The screws of separate arms, in bottom and clamp plate. */
export function armScrewCutouts({ spec, arms }: Setting): Cutout[] {
  const own = clearanceHole(spec.arms.screw, spec.fit);
  const outer = outerScrewHole(spec);
  return arms.flatMap(({ axis, root }, i) => {
    if (root === undefined) return [];
    const at = (x: number): Point => placePoint({ x, y: 0 }, armToFrame(axis));
    const holes = [
      {
        name: `arm ${i + 1} outer screw`,
        contour: hole(at(root.outer), outer),
        parameter: "arms.pitch",
        screwHole: outer,
      },
    ];
    if (root.innerIsStack) return holes;
    const inner = {
      name: `arm ${i + 1} inner screw`,
      contour: hole(at(root.inner), own),
      parameter: "arms.screw",
      screwHole: own,
    };
    return [inner, ...holes];
  });
}

/** Do outer screws of separate arms hold standoffs? */
export function carriesTop(spec: AirframeSpec): boolean {
  return spec.top !== undefined && spec.standoffs.onArms;
}

/** The outer screw goes into a standoff where there is a top plate. */
export function outerScrewHole(spec: AirframeSpec): number {
  return clearanceHole(carriesTop(spec) ? spec.standoffs.screw : spec.arms.screw, spec.fit);
}

export function rowCutouts({ spec, rows }: Setting): Cutout[] {
  const d = clearanceHole(spec.standoffs.screw, spec.fit);
  return rows.map((at, i) => ({
    name: `row standoff ${i + 1}`,
    contour: hole(at, d),
    parameter: "standoffs.rows",
    screwHole: d,
  }));
}
