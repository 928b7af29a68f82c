/**
 * Bottom, clamp and top plate: outlines round what they carry, and the holes that they share.
 *
 * An outline is the union of simple shapes (hulls of screws, lobes under arms, a nose for the camera), its
 * inside corners filled and its outside corners rounded.
 */
import { contains, placeContour, rectangle, signedArea } from "../../geometry/contour.ts";
import { placePoint } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { clearanceHole } from "../../plate/screw.ts";
import { mount } from "../arms/mount.ts";
import { armOutline } from "../arms/outline.ts";
import { armToFrame, stackHoles } from "../arms/roots.ts";
import type { AirframePlate, Cutout, NamedPoint, Role, Stand } from "../model.ts";
import { type Arm, armScrewCutouts, rowCutouts, type Setting, stackCutouts } from "../setting.ts";
import { common, holds, joined, type Rings } from "../shape/boolean.ts";
import { hole, hullOf, slotHole } from "../shape/build.ts";
import { eased, filled } from "../shape/round.ts";
import { armShape, fibreFor, wireSlot } from "./arm.ts";
import type { Built } from "./built.ts";
import { type CameraPlace, cameraMates, cameraSlots, slotFront } from "./camera-place.ts";
import { wireWindows } from "./windows.ts";

/** Lobes reach this far beyond the arm on them, each side, mm. */
const LOBE_RIM = 1;

export function bottomPlate(s: Setting, camera: CameraPlace | undefined): Built {
  const { spec } = s;
  const isDeck = !s.separate || spec.clamp === undefined;
  const outline = s.separate
    ? carrier(s, isDeck ? camera : undefined, isDeck)
    : onePiece(s, camera);
  const motors = s.separate ? [] : s.arms.flatMap((arm, i) => motorCutouts(s, arm, i, camera));
  const cutouts = [
    ...stackCutouts(s),
    ...armScrewCutouts(s),
    ...(isDeck ? rowCutouts(s) : []),
    ...motors,
    ...wireWindows(spec.bottom.windows, "bottom"),
    ...(isDeck && camera !== undefined ? cameraSlots(camera, camera.lowerTabs) : []),
  ];
  const points = [...middleAndStandoffs(s), ...(s.separate ? [] : motorPoints(s))];
  const part = { role: "bottom" as const, sheet: spec.bottom.sheet, z: 0 };
  const mates = isDeck && camera !== undefined ? cameraMates(camera, camera.lowerTabs) : [];
  return plateOf(s, part, outline, { cutouts, points, mates, corner: spec.bottom.corner });
}

export function clampPlate(s: Setting, camera: CameraPlace | undefined): Built | undefined {
  const { clamp } = s.spec;
  if (clamp === undefined || !s.separate) return undefined;
  const cutouts = [
    ...stackCutouts(s),
    ...armScrewCutouts(s),
    ...rowCutouts(s),
    ...(camera === undefined ? [] : cameraSlots(camera, camera.lowerTabs)),
  ];
  const mates = camera === undefined ? [] : cameraMates(camera, camera.lowerTabs);
  const part = { role: "clamp" as const, sheet: clamp.sheet, z: s.levels.arms };
  const points = middleAndStandoffs(s);
  return plateOf(s, part, carrier(s, camera, true), {
    cutouts,
    points,
    mates,
    corner: clamp.corner,
  });
}

export function topPlate(s: Setting, camera: CameraPlace | undefined): Built | undefined {
  const { spec } = s;
  if (spec.top === undefined) return undefined;
  const hull = hullOf(
    s.standoffs.map((p) => p.at),
    s.rim,
  );
  const nose = camera === undefined ? [] : noseOf(camera, slotFront(camera, camera.upperTab));
  const outline = together(s, [hull], nose);
  const cutouts = [
    ...standoffCutouts(s),
    ...straps(s),
    ...antenna(s),
    ...wireWindows(spec.top.windows, "top"),
    ...(camera === undefined ? [] : cameraSlots(camera, [camera.upperTab])),
  ];
  const mates = camera === undefined ? [] : cameraMates(camera, [camera.upperTab]);
  const part = { role: "top" as const, sheet: spec.top.sheet, z: s.levels.topUnder };
  const points = middleAndStandoffs(s);
  return plateOf(s, part, outline, { cutouts, points, mates, corner: spec.top.corner });
}

interface Parts {
  readonly cutouts: readonly Cutout[];
  readonly points: readonly NamedPoint[];
  readonly mates: AirframePlate["mates"];
  readonly corner: number;
}

function plateOf(
  s: Setting,
  { role, sheet, z }: { role: "bottom" | "clamp" | "top"; sheet: string; z: number },
  outline: Rings | undefined,
  { cutouts, points, mates, corner }: Parts,
): Built {
  // Arms of a one-piece plate may be thinner than the body's corners are round: those have their radius already.
  const radius =
    role === "bottom" && !s.separate ? Math.min(corner, KINK) : roundest(s, role, corner);
  const rings = outline === undefined ? [] : eased(outline, radius);
  const outers = rings.filter((r) => signedArea(r) > 0);
  const outer = outers[0];
  // More than one: a neck was thinner than its corners are round, and the plate fell apart.
  if (outer === undefined || outers.length > 1) return { name: role, failed: FAILED_BY[role](s) };
  const openings = rings
    .filter((r) => signedArea(r) < 0)
    .map((contour, i) => ({
      name: `opening ${i + 1}`,
      contour,
      parameter: "arms.rootFillet",
    }));
  const stand: Stand = {
    kind: "flat",
    plateToFrame: { x: 0, y: 0, angle: 0, flipped: false },
    z,
  };
  const plate: AirframePlate = {
    name: role,
    role,
    sheet,
    thickness: s.thickness(sheet),
    outer,
    cutouts: [...cutouts, ...openings],
    // Standoff rows stand on the deck alone: other plates need not reach them.
    points: points.filter((p) => contains(outer, p.at)),
    ...fibreOf(s, role, sheet),
    mates,
    stands: [stand],
    lightened: 0,
  };
  return { name: role, plate };
}

/** Lobes and seats of screws are round already: a larger radius would take them away. */
function roundest(s: Setting, role: Role, corner: number): number {
  const most = role === "top" ? s.rim : Math.min(s.rim, lobe(s));
  return Math.min(corner, 0.95 * most);
}

function lobe({ rim, spec }: Setting): number {
  return Math.max(rim, spec.arms.root / 2 + LOBE_RIM);
}

/** Slight corners where arms of a one-piece plate leave the body are rounded by this, mm. */
const KINK = 1;

/** The key whose number leaves no outline. */
const FAILED_BY: Readonly<Record<"bottom" | "clamp" | "top", (s: Setting) => string>> = {
  bottom: (s) => (s.separate ? "bottom.corner" : "arms.tip"),
  clamp: () => "clamp.corner",
  top: () => "top.corner",
};

/** Arms that lie on a plate, or are of it, decide its fibre; the top plate is stiff along the battery. */
function fibreOf(s: Setting, role: Role, sheet: string): { fibreDeg?: number } {
  if (s.materialOf(sheet) === "carbon-quasi-isotropic") return {};
  return { fibreDeg: role === "top" ? 0 : fibreFor(s.arms.map((a) => a.axis.angle)) };
}

/** Bottom or clamp plate of separate arms: a spine, a lobe for each arm, and a nose. */
function carrier(
  s: Setting,
  camera: CameraPlace | undefined,
  withRows: boolean,
): Contour[] | undefined {
  const { spec } = s;
  const inner = s.arms.map(({ axis, root }) => onAxis(axis, root?.inner ?? 0));
  const spine = hullOf(
    [...stackHoles(spec.stack.side), ...inner, ...(withRows ? s.rows : [])],
    s.rim,
  );
  const lobes = s.arms.map(({ axis, root }) =>
    hullOf([axis.anchor, onAxis(axis, root?.outer ?? 0)], lobe(s)),
  );
  const nose = camera === undefined ? [] : noseOf(camera, noseFront(camera));
  return together(s, [spine, ...lobes], nose);
}

function onAxis(axis: Arm["axis"], x: number): Point {
  return placePoint({ x, y: 0 }, armToFrame(axis));
}

function together(s: Setting, shapes: readonly Contour[], nose: readonly Contour[]) {
  let all: Contour[] | undefined;
  for (const shape of [...shapes, ...nose])
    all = all === undefined ? [shape] : joined(all, [shape]);
  return all === undefined ? undefined : filled(all, s.spec.arms.rootFillet);
}

/** From the middle of the plate, so that it is joined however far ahead the camera is. */
function noseOf(c: CameraPlace, front: number): Contour[] {
  return [rectangle(-c.halfWidth, 0, c.halfWidth, front)];
}

function noseFront(c: CameraPlace): number {
  const last = c.lowerTabs[c.lowerTabs.length - 1] ?? 0;
  return Math.max(slotFront(c, last), c.y + c.camera.length);
}

/** The body of a one-piece plate, without its arms. */
function core(s: Setting, camera: CameraPlace | undefined): Contour[] | undefined {
  const anchors = s.spec.layout === "h" ? s.arms.map((a) => a.axis.anchor) : [];
  const hull = hullOf([...stackHoles(s.spec.stack.side), ...s.rows, ...anchors], s.rim);
  const nose = camera === undefined ? [] : noseOf(camera, noseFront(camera));
  const body = together(s, [hull], nose);
  return body === undefined ? undefined : eased(body, s.spec.bottom.corner);
}

function onePiece(s: Setting, camera: CameraPlace | undefined): Contour[] | undefined {
  const body = core(s, camera);
  if (body === undefined) return undefined;
  // Stubs that end short of the pads get the root fillets, which then leave the pads' own fillets alone.
  let stubs: Contour[] | undefined = body;
  const whole: Contour[] = [];
  for (const arm of s.arms) {
    const exit = leaves(body, arm);
    // Flanks begin to narrow inside the body, so that no corner shows beside the root fillet.
    const shape = armOutline(armShape(s, arm, 0, Math.max(0, exit - s.spec.arms.root / 2)));
    if (shape === undefined) return undefined;
    whole.push(...shape.map((c) => placeContour(c, armToFrame(arm.axis))));
    const short = stubOf(shape, stubEnd(s, arm, exit));
    if (stubs === undefined || short === undefined) return undefined;
    stubs = joined(
      stubs,
      short.map((c) => placeContour(c, armToFrame(arm.axis))),
    );
  }
  let all = stubs === undefined ? undefined : filled(stubs, s.spec.arms.rootFillet);
  for (const arm of whole) all = all === undefined ? undefined : joined(all, [arm]);
  return all;
}

function stubEnd({ spec, pad }: Setting, { axis }: Arm, exit: number): number {
  const fillet = spec.arms.shape === "tangent" ? -0.2 * pad : 0.6 * spec.arms.fillet;
  return Math.max((exit + axis.length - pad) / 2, axis.length - pad - fillet);
}

function stubOf(shape: Rings, to: number): Contour[] | undefined {
  return common(shape, [rectangle(-1, -500, to, 500)]);
}

/** Where an arm's axis leaves the body of a one-piece plate. */
export function exitOf(s: Setting, camera: CameraPlace | undefined, arm: Arm): number {
  return leaves(core(s, camera) ?? [], arm);
}

function leaves(body: Rings, { axis }: Arm): number {
  let last = 0;
  for (let x = 0; x < axis.length; x += 0.5) if (holds(body, onAxis(axis, x))) last = x;
  return last;
}

function motorCutouts(s: Setting, arm: Arm, i: number, camera: CameraPlace | undefined): Cutout[] {
  const body = core(s, camera) ?? [];
  const free = { from: leaves(body, arm), to: arm.axis.length - s.pad };
  const name = `motor ${i + 1}`;
  return [
    ...mount(s.spec, arm.axis.motor, arm.axis.angle, name),
    ...wireSlot(s, free, armToFrame(arm.axis), name),
  ];
}

function motorPoints(s: Setting): NamedPoint[] {
  return s.arms.map(({ axis }, i) => ({ name: `motor-${i + 1}`, at: axis.motor }));
}

function middleAndStandoffs(s: Setting): NamedPoint[] {
  const standoffs = s.standoffs.map(({ name, at }) => ({ name, at }));
  return [
    { name: "stack", at: { x: 0, y: 0 } },
    ...stackHoles(s.spec.stack.side).map((at, i) => ({ name: `stack-${i + 1}`, at })),
    ...standoffs,
  ];
}

function standoffCutouts(s: Setting): Cutout[] {
  const d = clearanceHole(s.spec.standoffs.screw, s.spec.fit);
  return s.standoffs.map(({ name, at }) => ({
    name,
    contour: hole(at, d),
    parameter: "standoffs.rows",
    screwHole: d,
  }));
}

/** A strap's slot has this much room along it, mm. */
const STRAP_PLAY = 2;

function straps({ spec }: Setting): Cutout[] {
  const { straps } = spec;
  if (straps === undefined) return [];
  return straps.at.flatMap((y, i) =>
    [1, -1].map((side) => ({
      name: `strap ${i + 1} ${side > 0 ? "right" : "left"}`,
      contour: slotHole({
        at: { x: (side * straps.across) / 2, y },
        width: straps.slot,
        length: straps.width + STRAP_PLAY,
        angle: Math.PI / 2,
      }),
      parameter: "straps.across",
    })),
  );
}

function antenna(s: Setting): Cutout[] {
  const { antenna: spec } = s.spec;
  if (spec === undefined) return [];
  const rear = Math.min(...s.standoffs.map((p) => p.at.y)) - s.rim;
  const at = spec.at === undefined ? { x: 0, y: rear + 3 + spec.diameter / 2 } : xy(spec.at);
  return [
    {
      name: "antenna",
      contour: hole(at, spec.diameter),
      parameter: "antenna.at",
    },
  ];
}

function xy([x, y]: readonly [number, number]): Point {
  return { x, y };
}
