/** Which tenon sits in which slot: the mates that the job names, met by geometry. */
import type { Finding } from "../finding/finding.ts";
import { reportFit } from "../finding/say-fit.ts";
import { lengthOf } from "../geometry/segment.ts";
import { thicknessOf } from "../layout/layout.ts";
import type { Feature, Plate } from "../plate/plate.ts";
import type { FitInput, FitPlate, MateWish } from "./mate.ts";
import { featureAt, type Room, roomOf } from "./shape/slot-room.ts";
import { type Tenon, tenonsOf } from "./shape/tenon.ts";

/** A tenon may be this much shorter or longer than its slot is, as drawn, mm: fits and drawn clearances. */
const SHORTER = 2;
const LONGER = 0.2;
/** What stands out further than the thickest host and this is an arm or a leg, not a tenon, mm. */
const STANDS_OUT = 3;
/** Tenons of one width are one kind, mm. */
const ALIKE = 0.05;

export interface Met {
  readonly wish: MateWish;
  readonly hostEntry: FitPlate;
  readonly host: { readonly plate: Plate; readonly feature: Feature };
  /** Undefined where the opening is no rectangle: then it stays as drawn. */
  readonly room: Room | undefined;
  readonly guest: FitPlate;
  /** Of the guest; the one whose width is nearest to the slot's. */
  readonly tenon: Tenon;
  /** Whether a tenon of the guest is of the kind that sits in this slot. */
  readonly fits: (t: Tenon) => boolean;
}

export function metMates(input: FitInput): { mates: Met[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const mates = input.plates.flatMap((entry) =>
    entry.mates.flatMap((wish) => {
      const place = { plate: entry.name, at: [wish.slot.x, wish.slot.y] as const };
      const { x, y } = wish.slot;
      const host = featureAt(entry.plates, wish.slot);
      const guest = input.plates.find((p) => p.name === wish.of) ?? nameless(input, wish.of);
      if (host === undefined) {
        findings.push(reportFit("mate-without-slot", { of: wish.of, x, y }, place));
        return [];
      }
      if (guest === undefined) return [];
      if (wish.both === true) {
        const data = { fit: wish.fit ?? "", clearance: wish.clearance };
        findings.push(reportFit("mate-with-two-fits", data, place));
      }
      const room = roomOf(host.feature);
      const length = room === undefined ? roughLength(host.feature) : roomLength(room);
      const tenons = guest.plates.flatMap(tenonsOf).filter((t) => suits(t, length));
      const [tenon] = [...tenons].sort(
        (a, b) => Math.abs(a.width - length.straight) - Math.abs(b.width - length.straight),
      );
      if (tenon === undefined) {
        const data = { of: wish.of, length: length.most, x, y };
        findings.push(reportFit("mate-without-tenon", data, place));
        return [];
      }
      const fits = (t: Tenon): boolean => Math.abs(t.width - tenon.width) <= ALIKE;
      return [{ wish, hostEntry: entry, host, room, guest, tenon, fits }];
    }),
  );
  return { mates, findings };
}

/** A drawing of several outlines gives plates `name-1`, `name-2`, …, which a mate may name. */
function nameless(input: FitInput, of: string): FitPlate | undefined {
  const found = input.plates.find((p) => p.plates.some((q) => q.name === of));
  return found === undefined
    ? undefined
    : { ...found, plates: found.plates.filter((q) => q.name === of) };
}

export interface Length {
  readonly straight: number;
  /** Round ends may be meant for the tenon or not. */
  readonly most: number;
}

export function roomLength(room: Room): Length {
  const { length, width, round } = room;
  return { straight: length, most: round ? length + width : length };
}

function roughLength(f: Feature): Length {
  const sides = f.contour.segments.map((s) => (s.kind === "line" ? lengthOf(s) : 0));
  const straight = Math.max(0, ...sides);
  return { straight, most: straight };
}

export function suits(t: Tenon, { straight, most }: Length): boolean {
  return t.width >= straight - SHORTER && t.width <= most + LONGER;
}

/** Tenons with shoulders of mated plates for which the job names too few slots. */
export function unmatched(input: FitInput, mates: readonly Met[]): Finding[] {
  return input.plates.flatMap((p) => {
    const own = mates.filter((m) => m.guest.name === p.name);
    if (own.length === 0) return [];
    const most = Math.max(...own.map((m) => thicknessOf(m.hostEntry.sheet))) + STANDS_OUT;
    const tenons = p.plates.flatMap((plate) =>
      tenonsOf(plate)
        .filter((t) => t.reach <= most && t.shoulders.every((s) => s !== undefined))
        .map((t) => ({ plate, tenon: t })),
    );
    return kinds(tenons).flatMap((alike) => {
      const [first] = alike;
      if (first === undefined) return [];
      const { tenon, plate } = first;
      const slots = own.filter((m) => m.fits(tenon)).reduce((n, m) => n + m.hostEntry.count, 0);
      const needed = alike.length * p.count;
      if (slots >= needed) return [];
      const data = {
        width: tenon.width,
        found: slots,
        wanted: needed,
        thickness: thicknessOf(p.sheet),
      };
      const place = { plate: plate.name, at: [tenon.at.x, tenon.at.y] as const };
      return [reportFit("tenon-without-slot", data, place)];
    });
  });
}

interface Owned {
  readonly plate: Plate;
  readonly tenon: Tenon;
}

function kinds(tenons: readonly Owned[]): Owned[][] {
  const groups: Owned[][] = [];
  for (const t of tenons) {
    const group = groups.find(
      ([g]) => g !== undefined && Math.abs(g.tenon.width - t.tenon.width) <= ALIKE,
    );
    if (group === undefined) groups.push([t]);
    else group.push(t);
  }
  return groups;
}
