/**
 * The assembly from above and from the side: plates in their places, motors, propeller discs, standoffs.
 * Forward is up in the one and right in the other. Pictures for people; the drawings are what is cut.
 */

import type { Label } from "../../drawing/write-dxf.ts";
import { type StyledLayer, writeSvg } from "../../drawing/write-svg.ts";
import { boundsOfAll, placeContour, polygon, rectangle } from "../../geometry/contour.ts";
import { placePoint } from "../../geometry/segment.ts";
import type { Box, Contour, Point } from "../../geometry/shape.ts";
import { cos, sin } from "../../geometry/trig.ts";
import type { Airframe } from "../build-plates.ts";
import { propellerHeight } from "../estimate/estimate.ts";
import type { AirframePlate, Role } from "../model.ts";
import { disc } from "../shape/build.ts";
import { boardSide } from "../sizes.ts";

const FILL: Readonly<Record<Role, string>> = {
  bottom: "#8f9aa1",
  arm: "#596771",
  clamp: "#7d8a92",
  top: "#b4bdc2",
  "camera-side": "#a8894f",
  bracket: "#a8894f",
};
const INK = "#1d2b36";
const DISC = { fill: "none", stroke: "#8aa6bd", strokeWidth: 0.5 };
const METAL = { fill: "#d9dde0", stroke: INK, strokeWidth: 0.25 };
const MOTOR = { fill: "#3b4650", stroke: INK, strokeWidth: 0.3 };
const BOARD = { fill: "#7c9a6d", stroke: INK, strokeWidth: 0.25 };

export function pictureAbove(a: Airframe): string {
  const { setting: s } = a;
  const order: readonly Role[] = ["bottom", "arm", "clamp", "camera-side", "bracket", "top"];
  const layers: StyledLayer[] = [];
  for (const role of order) {
    if (role === "camera-side") layers.push(...boardsAbove(a), ...standoffsAbove(a));
    for (const p of a.plates.filter((q) => q.role === role)) layers.push(...plateAbove(p));
  }
  const r = 0.45 * s.spec.propeller.diameter;
  layers.push(
    { name: "motors", contours: s.arms.map((m) => disc(m.axis.motor, can(a))), style: MOTOR },
    {
      name: "shafts",
      contours: s.arms.map((m) => disc(m.axis.motor, Math.min(2.5, r / 10))),
      style: METAL,
    },
    {
      name: "propeller discs",
      contours: s.arms.map((m) => disc(m.axis.motor, s.spec.propeller.diameter / 2)),
      style: DISC,
    },
  );
  return finished(a, layers, [
    `${s.spec.name}, from above, forward is up`,
    `wheelbase ${fixed(s.skeleton.wheelbase)} mm, discs ${fixed(s.skeleton.clearance)} mm apart`,
  ]);
}

export function pictureSide(a: Airframe): string {
  const { setting: s } = a;
  const { levels, spec } = s;
  const layers: StyledLayer[] = [];
  const motors = s.arms.map(({ axis }) => axis.motor.y);
  const plane = propellerHeight(a);
  layers.push({ name: "boards", contours: boardsSide(a), style: BOARD });
  layers.push({ name: "standoffs", contours: standoffsSide(a), style: METAL });
  for (const p of a.plates) layers.push(plateSide(p));
  layers.push(
    {
      name: "motors",
      contours: motors.map((y) => rectangle(y - can(a), levels.arms, y + can(a), plane - 2)),
      style: MOTOR,
    },
    {
      name: "propellers",
      contours: motors.map((y) =>
        rectangle(
          y - spec.propeller.diameter / 2,
          plane - 1,
          y + spec.propeller.diameter / 2,
          plane + 1,
        ),
      ),
      style: { fill: "#cfdbe4", stroke: "#8aa6bd", strokeWidth: 0.3 },
    },
  );
  return finished(a, layers, [
    `${spec.name}, from the right, forward is right`,
    `${fixed(Math.max(levels.top, plane + 1))} mm high`,
  ]);
}

function fixed(v: number): string {
  return String(Number(v.toFixed(1)));
}

/** A motor's bell hardly reaches beyond its screws. */
function can({ setting }: Airframe): number {
  return 0.85 * setting.pad;
}

function plateAbove(p: AirframePlate): StyledLayer[] {
  const style = { fill: FILL[p.role], stroke: INK, strokeWidth: 0.3 };
  return p.stands.map((stand, i): StyledLayer => {
    const name = `${p.name} ${i + 1}`;
    if (stand.kind === "flat") {
      const rings = [p.outer, ...p.cutouts.map((c) => c.contour)];
      return {
        name,
        contours: rings.map((c) => placeContour(c, stand.plateToFrame)),
        together: true,
        style,
      };
    }
    const { min, max } = boundsOfAll([p.outer]);
    const half = p.thickness / 2;
    const box =
      stand.kind === "upright"
        ? rectangle(stand.x - half, stand.y + min.x, stand.x + half, stand.y + max.x)
        : rectangle(
            min.x,
            stand.y - max.y * sin(stand.lean) - half,
            max.x,
            stand.y - min.y * sin(stand.lean) + half,
          );
    return { name, contours: [box], style };
  });
}

function plateSide(p: AirframePlate): StyledLayer {
  const style = { fill: FILL[p.role], stroke: INK, strokeWidth: 0.25 };
  const name = `${p.name} from the side`;
  const [first] = p.stands;
  if (first?.kind === "upright") {
    const move = { x: first.y, y: first.z, angle: 0, flipped: false };
    const rings = [p.outer, ...p.cutouts.map((c) => c.contour)].map((c) => placeContour(c, move));
    return { name, contours: rings, together: true, style };
  }
  const contours = p.stands.flatMap((stand): Contour[] => {
    if (stand.kind === "flat") {
      const { min, max } = boundsOfAll([placeContour(p.outer, stand.plateToFrame)]);
      return [rectangle(min.y, stand.z, max.y, stand.z + p.thickness)];
    }
    if (stand.kind === "upright") return [];
    const { min, max } = boundsOfAll([p.outer]);
    const half = p.thickness / 2;
    const at = (up: number, out: number): Point => ({
      x: stand.y - up * sin(stand.lean) + out * cos(stand.lean),
      y: stand.z + up * cos(stand.lean) + out * sin(stand.lean),
    });
    return [polygon([at(min.y, half), at(max.y, half), at(max.y, -half), at(min.y, -half)])];
  });
  return { name, contours, style };
}

function standoffsAbove({ setting: s }: Airframe): StyledLayer[] {
  const contours = s.standoffs.map((p) => disc(p.at, s.spec.standoffs.body / 2));
  return [{ name: "standoffs", contours, style: METAL }];
}

function standoffsSide({ setting: s }: Airframe): Contour[] {
  const r = s.spec.standoffs.body / 2;
  return s.standoffs.map((p) => rectangle(p.at.y - r, p.z, p.at.y + r, p.z + p.height));
}

function boardsAbove({ setting: s }: Airframe): StyledLayer[] {
  const h = boardSide(s.spec) / 2;
  return [{ name: "boards", contours: [rectangle(-h, -h, h, h)], style: BOARD }];
}

/** Two boards above one another, where there is room. */
function boardsSide({ setting: s }: Airframe): Contour[] {
  const h = boardSide(s.spec) / 2;
  const z = s.levels.clamp;
  const room = s.spec.top === undefined ? 30 : s.levels.topUnder - z;
  return [5, 13].filter((up) => up + 3 < room).map((up) => rectangle(-h, z + up, h, z + up + 1.6));
}

/** Room round it, and a line or two of words below. */
function finished(a: Airframe, layers: readonly StyledLayer[], words: readonly string[]): string {
  const box = boundsOfAll(layers.flatMap((l) => l.contours));
  const width = box.max.x - box.min.x;
  const size = Math.max(3, width / 45);
  const page: Box = {
    min: { x: box.min.x - 2 * size, y: box.min.y - size * (2 + 1.5 * words.length) },
    max: { x: box.max.x + 2 * size, y: box.max.y + 2 * size },
  };
  const labels = words.map(
    (text, i): Label => ({
      text,
      at: { x: (box.min.x + box.max.x) / 2, y: box.min.y - size * (1.5 + 1.5 * i) },
      height: size,
    }),
  );
  const paper: StyledLayer = {
    name: "paper",
    contours: [rectangle(page.min.x, page.min.y, page.max.x, page.max.y)],
    style: { fill: "white", stroke: "none", strokeWidth: 0 },
  };
  const title = `${a.setting.spec.name}: assembly`;
  return writeSvg([paper, ...layers, { name: "words", contours: [], labels }], page, title);
}

/** Named points of every copy of a plate in the airframe frame, from above. */
export function pointsAbove(p: AirframePlate): readonly { name: string; at: Point }[] {
  return p.stands.flatMap((stand) =>
    stand.kind === "flat"
      ? p.points.map((q) => ({ name: q.name, at: placePoint(q.at, stand.plateToFrame) }))
      : [],
  );
}
