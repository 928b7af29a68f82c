/**
 * Where plates sit in one another: the tenons of a plate that stand in another plate's slots. No
 * holding tab goes on their edges, since its stub would keep the tenon out.
 *
 * A tenon is a straight end edge between two sides that turn back from it at right angles, as long as
 * the slot is or a little shorter.
 */
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayPlan } from "../../finding/say-plan.ts";
import { bounds, contains, distanceTo } from "../../geometry/contour.ts";
import { distance, lengthOf, tangentAt } from "../../geometry/segment.ts";
import type { Line, Point, Segment } from "../../geometry/shape.ts";
import type { Feature, Plate } from "../../plate/plate.ts";
import type { JobPlate, Mate } from "../job.ts";

export interface Mated {
  readonly plates: ReadonlyMap<JobPlate, Plate[]>;
  readonly findings: readonly Finding[];
}

const report = reporter(sayPlan);

/** A tenon may be this much shorter or longer than its slot is long, mm: fits and drawn clearances. */
const SHORTER = 2;
const LONGER = 0.2;
/** Corner fillets of a tenon up to this are still a corner, mm. */
const FILLET = 1.6;
/** A slot is meant where the job's point lies in it or this near, mm. */
const NEAR = 1;
/** Corners square within this, as the cosine of the angle (about 3°). */
const SQUARE = 0.05;

export function withMatingEdges(
  jobPlates: readonly JobPlate[],
  found: ReadonlyMap<JobPlate, Plate[]>,
): Mated {
  const findings: Finding[] = [];
  const edges = new Map<string, Line[]>();
  for (const p of jobPlates) {
    for (const mate of p.mates) {
      const slot = slotAt(found.get(p) ?? [], mate.slot);
      const other = jobPlates.find((q) => q.name === mate.of);
      const place = { plate: p.name, at: [mate.slot.x, mate.slot.y] as const };
      if (slot === undefined) {
        findings.push(report("mate-without-slot", { of: mate.of, ...xy(mate) }, place));
        continue;
      }
      const tenons = (other === undefined ? [] : (found.get(other) ?? [])).flatMap((plate) =>
        tenonEdges(plate, roomFor(slot)),
      );
      if (tenons.length === 0) {
        const data = { of: mate.of, length: roomFor(slot).most, ...xy(mate) };
        findings.push(report("mate-without-tenon", data, place));
      }
      edges.set(mate.of, [...(edges.get(mate.of) ?? []), ...tenons]);
    }
  }
  const plates = new Map<JobPlate, Plate[]>();
  for (const [p, list] of found) {
    const own = edges.get(p.name) ?? [];
    plates.set(
      p,
      own.length === 0 ? list : list.map((plate) => ({ ...plate, matingEdges: unique(own) })),
    );
  }
  return { plates, findings };
}

function xy({ slot }: Mate): { x: number; y: number } {
  return { x: slot.x, y: slot.y };
}

function slotAt(plates: readonly Plate[], p: Point): Feature | undefined {
  const open = plates.flatMap((plate) => plate.features).filter((f) => f.kind !== "hole");
  return (
    open.find((f) => contains(f.contour, p)) ?? open.find((f) => distanceTo(f.contour, p) <= NEAR)
  );
}

interface Length {
  readonly least: number;
  readonly most: number;
}

/** How long a tenon in this opening may be; the round ends of a slot may be meant for it or not. */
function roomFor(feature: Feature): Length {
  if (feature.length !== undefined) {
    const straight = feature.length - (feature.width ?? 0);
    return { least: straight - SHORTER, most: feature.length + LONGER };
  }
  const box = bounds(feature.contour);
  const sides = feature.contour.segments.filter((s) => s.kind === "line").map(lengthOf);
  const long = Math.max(...sides, Math.min(box.max.x - box.min.x, box.max.y - box.min.y));
  return { least: long - SHORTER, most: long + LONGER };
}

function tenonEdges(plate: Plate, room: Length): Line[] {
  // Corners rounded by a small fillet count as corners: the straight edges alone are looked at.
  const edges = plate.outer.segments.filter((s) => s.kind === "line" || s.radius > FILLET);
  return edges.flatMap((end, i) => {
    const before = edges[(i + edges.length - 1) % edges.length] as Segment;
    const after = edges[(i + 1) % edges.length] as Segment;
    if (end.kind !== "line" || before.kind !== "line" || after.kind !== "line") return [];
    const wide = distanceAcross(before, after);
    if (wide < room.least || wide > room.most) return [];
    return turnsLeft(before, end) && turnsLeft(end, after) ? [before, end, after] : [];
  });
}

/** Between the two sides, where they leave the end. */
function distanceAcross(before: Line, after: Line): number {
  return distance(before.to, after.from);
}

/** A square convex corner of a counter-clockwise outline. */
function turnsLeft(a: Line, b: Line): boolean {
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return Math.abs(u.x * v.x + u.y * v.y) < SQUARE && u.x * v.y - u.y * v.x > 0;
}

function unique(lines: readonly Line[]): Line[] {
  return [...new Set(lines)];
}
