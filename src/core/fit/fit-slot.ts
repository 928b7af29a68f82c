/** One slot made to the tenon that sits in it, with the relief that takes least from the host. */
import { leastWeb } from "../check/hold/web.ts";
import type { Finding } from "../finding/finding.ts";
import { reportFit } from "../finding/say-fit.ts";
import type { Contour } from "../geometry/shape.ts";
import { GRID } from "../geometry/tolerance.ts";
import { thicknessOf } from "../layout/layout.ts";
import type { Plate } from "../plate/plate.ts";
import { cutterFor, leastTaken, reliefRadius, smallestRouter, webRound } from "./choose.ts";
import type { FitChange, FitInput, FitPlate, ReliefWay } from "./mate.ts";
import type { Met } from "./meet.ts";
import { type SlotMade, slotContour } from "./shape/slot-cut.ts";
import type { Room } from "./shape/slot-room.ts";

export interface SlotFit {
  readonly contour?: Contour;
  readonly change?: FitChange;
  readonly findings: readonly Finding[];
}

/** A slot drawn this much off the tenon's sheet, in mm and as a share of it, was drawn for something else. */
const UNLIKE = 0.6;
const UNLIKE_SHARE = 0.3;

export function fitSlot(input: FitInput, p: FitPlate, plate: Plate, mate: Met): SlotFit {
  const { room, wish, guest, tenon, host } = mate;
  const at = [host.feature.at.x, host.feature.at.y] as const;
  const place = { plate: plate.name, at, drawing: host.feature.contour.segments[0]?.origin };
  if (room === undefined) {
    return { findings: [reportFit("mate-slot-odd", { of: wish.of }, place)] };
  }
  const sheet = thicknessOf(guest.sheet);
  const off = Math.abs(room.width - guest.sheet.thickness - wish.clearance);
  if (off > Math.max(UNLIKE, UNLIKE_SHARE * sheet)) {
    const data = { of: wish.of, found: room.width, wanted: sheet + wish.clearance };
    return { findings: [reportFit("mate-slot-unlike", data, place)] };
  }
  const offset = cutterFor(input.cutters, sheet + wish.clearance)?.fitOffset ?? 0;
  const clearance = wish.clearance + offset;
  const size = { width: sheet + clearance, length: tenon.width + clearance };
  if (room.round && same(room, size)) return { findings: [] };
  const made = bestSlot(input, p, plate, mate, { room, ...size });
  const change: FitChange = {
    plate: plate.name,
    what: "slot",
    at: room.at,
    before: { width: room.width, length: room.length },
    after: size,
    with: wish.of,
    clearance: wish.clearance,
    ...(made.relief === undefined ? {} : { relief: made.relief }),
  };
  const data = {
    of: wish.of,
    thickness: sheet,
    fit: wish.fit ?? "",
    clearance: wish.clearance,
    offset,
    widthBefore: room.width,
    width: size.width,
    lengthBefore: room.length,
    length: size.length,
    relief: made.relief?.way ?? "none",
    radius: made.relief?.radius ?? 0,
    bite: made.relief?.bite ?? 0,
  };
  return { contour: made.contour, change, findings: [reportFit("slot-fitted", data, place)] };
}

/** On the drawing's grid. */
function same(room: Room, size: { readonly width: number; readonly length: number }): boolean {
  return Math.abs(room.width - size.width) < GRID && Math.abs(room.length - size.length) < GRID;
}

function bestSlot(
  input: FitInput,
  p: FitPlate,
  plate: Plate,
  { wish, host }: Met,
  { room, ...size }: { readonly room: Room; readonly width: number; readonly length: number },
): SlotMade {
  const cutter = smallestRouter(input.cutters);
  const radius = cutter === undefined ? 0 : reliefRadius(cutter, input);
  const origin = host.feature.contour.segments[0]?.origin;
  const wanted = { at: room.at, angle: room.angle, origin, ...size };
  const make = (way: ReliefWay | "none"): SlotMade => slotContour(wanted, way, radius);
  const wished = wish.relief ?? "chosen";
  if (wished !== "chosen") return make(wished);
  if (radius === 0) return make("none");
  // A slot that was drawn with round ends keeps them.
  if (room.round) return make("round-ends");
  const ways = (["along-wall", "bisector"] as const).map((way) => {
    const made = make(way);
    return { made, web: webRound(plate, made.contour, host.feature.id) };
  });
  return leastTaken(ways, leastWeb(thicknessOf(p.sheet))) as SlotMade;
}
