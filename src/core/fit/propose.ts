/**
 * Mates that geometry shows and the job does not name: a slot as wide as another plate's sheet is thick, or a little
 * wider, and a tenon with shoulders of the slot's length. They are proposed, never assumed.
 */
import type { Finding } from "../finding/finding.ts";
import { reportFit } from "../finding/say-fit.ts";
import { contains, distanceTo } from "../geometry/contour.ts";
import type { Feature } from "../plate/plate.ts";
import type { FitInput, FitPlate } from "./mate.ts";
import { roomLength } from "./meet.ts";
import { roomOf } from "./shape/slot-room.ts";
import { tenonsOf } from "./shape/tenon.ts";

/** How much narrower or wider than the sheet a slot is drawn for it, mm. */
const NARROWER = 0.05;
const WIDER = 0.4;
/** A tenon of the slot's straight length, less its clearance, mm. */
const SHORTER = 0.6;
/** A mate is named already where its point lies in the slot or this near, mm. */
const NEAR = 1;

export function proposals({ plates }: FitInput): Finding[] {
  return plates.flatMap((host) =>
    host.plates.flatMap((plate) =>
      plate.features
        .filter((f) => f.depth === undefined && !isNamed(host, f))
        .flatMap((f) => guestsOf(plates, host, f).map((guest) => proposal(plate.name, f, guest))),
    ),
  );
}

function isNamed({ mates }: FitPlate, f: Feature): boolean {
  return mates.some((m) => contains(f.contour, m.slot) || distanceTo(f.contour, m.slot) <= NEAR);
}

function guestsOf(plates: readonly FitPlate[], host: FitPlate, f: Feature): FitPlate[] {
  const room = roomOf(f);
  if (room === undefined) return [];
  const { straight, most } = roomLength(room);
  return plates.filter((guest) => {
    const over = room.width - guest.sheet.thickness;
    if (guest === host || over < -NARROWER || over > WIDER) return false;
    return guest.plates
      .flatMap(tenonsOf)
      .some(
        (t) =>
          t.shoulders.every((s) => s !== undefined) &&
          t.width >= straight - SHORTER &&
          t.width <= most + NARROWER,
      );
  });
}

function proposal(plate: string, f: Feature, guest: FitPlate): Finding {
  const at = [Number(f.at.x.toFixed(3)), Number(f.at.y.toFixed(3))] as const;
  const data = { of: guest.name, x: at[0], y: at[1], thickness: guest.sheet.thickness };
  return reportFit("mate-proposed", data, { plate, at, drawing: f.contour.segments[0]?.origin });
}
