/**
 * Camera sides and the bracket between them.
 *
 * Side frame: X forward from its rear edge, Y up from the deck. Where a tab leaves an edge the cutter would
 * leave a fillet and the plate would not seat, so a half circle is cut into the edge on both sides of it.
 * The camera turns about the pivot; its second screw runs in a bent slot behind it: looking up by t, the screw
 * behind goes down by t.
 */
import { closeUp } from "../../geometry/contour.ts";
import { arc, distance, line } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { cos, radians, sin } from "../../geometry/trig.ts";
import { clearanceHole } from "../../plate/screw.ts";
import type { AirframePlate, Cutout } from "../model.ts";
import type { Setting } from "../setting.ts";
import { bentSlot, hole, slotHole } from "../shape/build.ts";
import { CAMERA_PLAY, type CameraPlace } from "./camera-place.ts";

/** Reliefs are this much wider than the cutter, so that it turns in them. */
const RELIEF_ROOM = 1.1;
const REAR_CORNER = 1.5;

export function cameraSide(s: Setting, c: CameraPlace, cutter: number): AirframePlate {
  const pivot = pivotOf(s, c);
  const mid = c.lowerTabs.map((x, i) => ({ name: `lower tab ${i + 1}`, at: { x, y: 0 } }));
  return {
    name: "camera-side",
    role: "camera-side",
    sheet: c.camera.sheet,
    thickness: c.thickness,
    outer: sideOutline(s, c, cutter),
    cutouts: c.camera.bracket === undefined ? screws(s, c, pivot) : bracketSlots(s, c, pivot),
    points: [
      { name: "pivot", at: pivot },
      ...mid,
      { name: "upper tab", at: { x: c.upperTab, y: c.height } },
    ],
    mates: c.camera.bracket === undefined ? [] : bracketMates(s, c, pivot),
    stands: [1, -1].map((side) => ({
      kind: "upright" as const,
      x: side * c.x,
      y: c.y,
      z: s.levels.deck,
    })),
    lightened: 0,
  };
}

/** Well forward, half way up. */
function pivotOf({ spec }: Setting, c: CameraPlace): Point {
  const d = clearanceHole(c.camera.screw, spec.fit);
  return { x: c.camera.length - Math.max(3 * d, 7), y: c.height / 2 };
}

function screws({ spec }: Setting, c: CameraPlace, pivot: Point): Cutout[] {
  const d = clearanceHole(c.camera.screw, spec.fit);
  const [low, high] = c.camera.tiltDeg.map(radians) as [number, number];
  const [from, to] = [Math.PI + Math.min(low, high), Math.PI + Math.max(low, high)];
  const spot = { x: pivot.x - c.camera.swing * cos(from), y: pivot.y - c.camera.swing * sin(from) };
  const slot = to - from < 0.01 ? hole(spot, d) : bentSlot(pivot, c.camera.swing, d, [from, to]);
  return [
    { name: "pivot", contour: hole(pivot, d), parameter: "camera.screw", screwHole: d },
    { name: "tilt slot", contour: slot, parameter: "camera.swing" },
  ];
}

/** Bracket frame: X right, Y up along its face, the lens in the middle. */
interface BracketShape {
  readonly thickness: number;
  readonly half: { readonly x: number; readonly y: number };
  /** Width of its tab. */
  readonly tab: number;
  readonly lens: number;
  /** Looking up, rad. */
  readonly tilt: number;
}

/** Material round the lens, mm. */
const LENS_RIM = 4;

function bracketShape(c: CameraPlace): BracketShape | undefined {
  const { bracket, tiltDeg, width, tab } = c.camera;
  if (bracket === undefined) return undefined;
  const half = bracket.lens / 2 + LENS_RIM;
  return {
    thickness: c.thickness,
    half: { x: width / 2 + CAMERA_PLAY / 2, y: Math.max(half, tab / 2 + LENS_RIM) },
    tab,
    lens: bracket.lens,
    tilt: radians(bracket.setDeg ?? (tiltDeg[0] + tiltDeg[1]) / 2),
  };
}

/** The bracket's tab stands across the way it looks. */
function bracketSlots(_s: Setting, c: CameraPlace, pivot: Point): Cutout[] {
  const shape = bracketShape(c);
  if (shape === undefined) return [];
  const contour = slotHole({ at: pivot, ...c.slot, angle: Math.PI / 2 + shape.tilt });
  return [{ name: "bracket slot", contour, parameter: "camera.bracket" }];
}

function bracketMates(_s: Setting, c: CameraPlace, pivot: Point): AirframePlate["mates"] {
  return [{ slot: pivot, of: "bracket", clearance: c.camera.clearance }];
}

export function bracketPlate(
  s: Setting,
  c: CameraPlace,
  cutter: number,
): AirframePlate | undefined {
  const shape = bracketShape(c);
  if (shape === undefined) return undefined;
  const { half, tab } = shape;
  const pivot = pivotOf(s, c);
  const corners: Edge[] = [
    { from: { x: -half.x, y: -half.y }, tabs: [] },
    { from: { x: half.x, y: -half.y }, tabs: [{ at: half.y, width: tab, out: c.thickness }] },
    { from: { x: half.x, y: half.y }, tabs: [] },
    { from: { x: -half.x, y: half.y }, tabs: [{ at: half.y, width: tab, out: c.thickness }] },
  ];
  return {
    name: "bracket",
    role: "bracket",
    sheet: c.camera.sheet,
    thickness: c.thickness,
    outer: tabbed(corners, [2, 2, 2, 2], cutter),
    cutouts: [
      { name: "lens", contour: hole({ x: 0, y: 0 }, shape.lens), parameter: "camera.bracket.lens" },
    ],
    points: [
      { name: "lens", at: { x: 0, y: 0 } },
      { name: "right tab", at: { x: half.x, y: 0 } },
      { name: "left tab", at: { x: -half.x, y: 0 } },
    ],
    mates: [],
    stands: [{ kind: "leaning", y: c.y + pivot.x, z: s.levels.deck + pivot.y, lean: shape.tilt }],
    lightened: 0,
  };
}

interface Tab {
  /** Its middle, from the edge's start. */
  readonly at: number;
  readonly width: number;
  readonly out: number;
}

/** An edge from one corner to the next, with tabs that stand out to its right. */
interface Edge {
  readonly from: Point;
  readonly tabs: readonly Tab[];
}

function sideOutline(s: Setting, c: CameraPlace, cutter: number): Contour {
  const { camera, height } = c;
  const deckOut = s.levels.deck - deckUnder(s);
  const topOut = s.levels.top - s.levels.topUnder;
  const nose = Math.min(5, camera.length / 5, height / 4);
  return tabbed(
    [
      {
        from: { x: 0, y: 0 },
        tabs: c.lowerTabs.map((at) => ({ at, width: camera.tab, out: deckOut })),
      },
      { from: { x: camera.length, y: 0 }, tabs: [] },
      {
        from: { x: camera.length, y: height },
        tabs: [{ at: camera.length - c.upperTab, width: camera.tab, out: topOut }],
      },
      { from: { x: 0, y: height }, tabs: [] },
    ],
    [REAR_CORNER, REAR_CORNER, nose, nose],
    cutter,
  );
}

/** Underside of the plate that the sides stand on. */
function deckUnder({ levels, separate, spec }: Setting): number {
  return separate && spec.clamp !== undefined ? levels.arms : 0;
}

/** Counter-clockwise; tips of tabs are rounded a little so that they find their slot. */
function tabbed(edges: readonly Edge[], radii: readonly number[], cutter: number): Contour {
  const relief = (cutter / 2) * RELIEF_ROOM;
  const segments: Segment[] = [];
  let pen: Point | undefined;
  const to = (p: Point): void => {
    if (pen !== undefined && distance(pen, p) > 1e-9) segments.push(line(pen, p));
    pen = p;
  };
  const bend = (from: Point, end: Point, centre: Point, ccw: boolean): void => {
    to(from);
    segments.push(arc(from, end, centre, ccw));
    pen = end;
  };
  edges.forEach((edge, i) => {
    const end = (edges[(i + 1) % edges.length] as Edge).from;
    const u = {
      x: (end.x - edge.from.x) / distance(edge.from, end),
      y: (end.y - edge.from.y) / distance(edge.from, end),
    };
    const at = (along: number, out: number): Point => ({
      x: edge.from.x + u.x * along + u.y * out,
      y: edge.from.y + u.y * along - u.x * out,
    });
    const r0 = radii[i] ?? 0;
    const r1 = radii[(i + 1) % radii.length] ?? 0;
    to(at(r0, 0));
    for (const { at: middle, width, out } of edge.tabs) {
      const [a, b] = [middle - width / 2, middle + width / 2];
      const tip = Math.min(0.6, out / 3);
      bend(at(a - 2 * relief, 0), at(a, 0), at(a - relief, 0), false);
      bend(at(a, out - tip), at(a + tip, out), at(a + tip, out - tip), true);
      bend(at(b - tip, out), at(b, out - tip), at(b - tip, out - tip), true);
      bend(at(b, 0), at(b + 2 * relief, 0), at(b + relief, 0), false);
    }
    const length = distance(edge.from, end);
    const nextU = unitOf(end, (edges[(i + 2) % edges.length] as Edge).from);
    const leave = { x: end.x + nextU.x * r1, y: end.y + nextU.y * r1 };
    const enter = at(length - r1, 0);
    bend(enter, leave, { x: enter.x + nextU.x * r1, y: enter.y + nextU.y * r1 }, true);
  });
  const first = segments[0]?.from;
  if (first !== undefined) to(first);
  return { segments: closeUp(segments) };
}

function unitOf(a: Point, b: Point): Point {
  const d = distance(a, b);
  return { x: (b.x - a.x) / d, y: (b.y - a.y) / d };
}
