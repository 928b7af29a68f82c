/**
 * Where separate arms begin and where their screws are.
 *
 * Each arm starts as near the middle as its neighbours let it. A stack screw that passes through an arm gets a
 * hole in it; one that lies on the arm's axis is its inner screw too; where one would cut into a flank, the arm
 * starts beyond it. The outer screw carries a standoff, clear of the boards.
 */
import { placePoint, unplacePoint } from "../../geometry/segment.ts";
import type { Point, Rigid } from "../../geometry/shape.ts";
import { boxed, curveDistance, holds } from "../../layout/clearance.ts";
import { clearanceHole } from "../../plate/screw.ts";
import type { AirframeSpec } from "../file/schema.ts";
import { strip } from "../shape/build.ts";
import { boardSide, EDGE, LEAST_EDGE } from "../sizes.ts";
import type { Axis } from "./skeleton.ts";

export interface ArmRoot {
  /** Along the axis, from the anchor. */
  readonly start: number;
  readonly inner: number;
  readonly outer: number;
  /** The inner screw is one of the stack's. */
  readonly innerIsStack: boolean;
  /** Stack screws that pass through the arm beside its axis, arm frame. */
  readonly through: readonly Point[];
}

/** Arm frame to airframe frame. */
export function armToFrame({ anchor, angle }: Axis): Rigid {
  return { x: anchor.x, y: anchor.y, angle, flipped: false };
}

export function stackHoles(side: number): Point[] {
  const h = side / 2;
  return [
    { x: h, y: h },
    { x: -h, y: h },
    { x: -h, y: -h },
    { x: h, y: -h },
  ];
}

/** Material kept between a stack hole and an arm that it passes by. */
const BESIDE = 1.5;
/** A hole this near the axis is on it. */
const ON_AXIS = 0.25;

export function armRoots(spec: AirframeSpec, axes: readonly Axis[]): readonly ArmRoot[] {
  const apart = commonStart(spec, axes);
  return alike(
    spec,
    axes,
    axes.map((axis) => rootOf(spec, axis, apart)),
  );
}

/** Arms of one length get the same root as far as stack screws let them: fewer drawings, and spares that fit. */
function alike(
  spec: AirframeSpec,
  axes: readonly Axis[],
  roots: readonly ArmRoot[],
): readonly ArmRoot[] {
  return roots.map((root, i) => {
    const length = axes[i]?.length ?? 0;
    const kin = roots.filter((_, k) => Math.abs((axes[k]?.length ?? 0) - length) < 1e-6);
    if (kin.some((r) => r.innerIsStack || r.through.length > 0)) return root;
    const start = Math.max(...kin.map((r) => r.start));
    const inner = start + EDGE * clearanceHole(spec.arms.screw, spec.fit);
    const outer = Math.max(...kin.map((r) => r.outer - r.inner)) + inner;
    return { ...root, start, inner, outer: Math.max(outer, ...kin.map((r) => r.outer)) };
  });
}

/** The least distance from the anchors, in half millimetres, at which no two arms touch. */
function commonStart(spec: AirframeSpec, axes: readonly Axis[]): number {
  const half = spec.arms.root / 2;
  for (let t = 0.5; ; t += 0.5) {
    if (t > Math.min(...axes.map((a) => a.length))) return t;
    const strips = axes.map((a) => {
      const at = (x: number): Point => placePoint({ x, y: 0 }, armToFrame(a));
      return boxed(strip(at(t), at(Math.max(a.length, t + 1)), half, half));
    });
    const free = strips.every((s, i) =>
      strips.slice(i + 1).every((o) => {
        const d = curveDistance(s, o, spec.arms.play);
        return d >= spec.arms.play - 1e-9 && !holds(s, o) && !holds(o, s);
      }),
    );
    if (free) return t;
  }
}

function rootOf(spec: AirframeSpec, axis: Axis, apart: number): ArmRoot {
  const half = spec.arms.root / 2;
  const d = clearanceHole(spec.stack.screw, spec.fit);
  const own = clearanceHole(spec.arms.screw, spec.fit);
  const holes = stackHoles(spec.stack.side).map((p) => unplacePoint(p, armToFrame(axis)));
  let start = apart;
  for (const { x, y } of [...holes].sort((a, b) => a.x - b.x)) {
    if (isClear(x, y) || isThrough(x, y)) continue;
    start = Math.ceil(2 * (x + d / 2 + BESIDE)) / 2;
  }
  function isClear(x: number, y: number): boolean {
    return Math.abs(y) >= half + d / 2 + BESIDE || x + d / 2 + BESIDE <= start;
  }
  function isThrough(x: number, y: number): boolean {
    return Math.abs(y) + LEAST_EDGE * d <= half && x >= start + LEAST_EDGE * d;
  }
  const inside = holes.filter((p) => isThrough(p.x, p.y));
  const onAxis = inside.find((p) => Math.abs(p.y) <= ON_AXIS && p.x >= start + EDGE * d);
  const through = inside.filter((p) => p !== onAxis);
  const inner = onAxis?.x ?? firstClear(start + EDGE * own, through, 2 * own);
  const pitch = spec.arms.pitch ?? PITCH * own;
  const outer = clearOfBoards(spec, axis, firstClear(inner + pitch, through, 2 * own));
  return { start, inner, outer, innerIsStack: onAxis !== undefined, through };
}

/** Between the two screws of an arm, in holes: long enough to hold the arm's bending, common practice. */
const PITCH = 6;

/** The first place from x on that keeps this far from the holes. */
function firstClear(x: number, holes: readonly Point[], far: number): number {
  let at = x;
  for (const p of [...holes].sort((a, b) => a.x - b.x)) {
    if (Math.abs(p.x - at) < far) at = p.x + far;
  }
  return at;
}

/** Standoffs stand this far from the boards. */
const BOARD_GAP = 0.5;

function clearOfBoards(spec: AirframeSpec, axis: Axis, from: number): number {
  if (spec.top === undefined || !spec.standoffs.onArms) return from;
  const reach = boardSide(spec) / 2 + spec.standoffs.body / 2 + BOARD_GAP;
  for (let x = from; x < axis.length; x += 0.5) {
    const p = placePoint({ x, y: 0 }, armToFrame(axis));
    if (Math.abs(p.x) >= reach || Math.abs(p.y) >= reach) return x;
  }
  return from;
}
