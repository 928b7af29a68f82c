/** The tenons of one plate made to reach through their hosts, and to come down on their shoulders. */
import { leastWeb } from "../check/hold/web.ts";
import type { Finding } from "../finding/finding.ts";
import { reportFit } from "../finding/say-fit.ts";
import { thicknessOf } from "../layout/layout.ts";
import type { Plate } from "../plate/plate.ts";
import { leastTaken, reliefRadius, smallestRouter, webAlong } from "./choose.ts";
import type { FitChange, FitInput, FitPlate } from "./mate.ts";
import type { Met } from "./meet.ts";
import { type Step, withOuter } from "./shape/rework.ts";
import { type Tenon, tenonsOf } from "./shape/tenon.ts";
import { fittedOutline, type OutlineMade, type TenonWanted } from "./shape/tenon-cut.ts";

/** A tenon drawn to be flush with its host by its nominal thickness stays flush as measured, mm. */
const FLUSH = 0.15;
/** A tenon that ends this little below the host's face still reaches, mm. */
const REACHES = 0.05;

export function fitTenons(input: FitInput, p: FitPlate, plate: Plate, mates: readonly Met[]): Step {
  const own = mates.filter((m) => m.guest.plates.includes(drawnOf(p, plate)));
  const matched = tenonsOf(plate).flatMap((tenon) => {
    const mate = hostOf(tenon, own);
    return mate === undefined ? [] : [{ tenon, mate }];
  });
  if (matched.length === 0) return { plate, changes: [], findings: [] };
  const findings = matched.flatMap(({ tenon, mate }) => shortFinding(plate, tenon, mate));
  const wanted = matched.map(({ tenon, mate }) => ({ tenon, mate, longer: longerBy(tenon, mate) }));
  const made = bestOutline(input, p, plate, wanted);
  findings.push(
    ...made.tight.map((at) =>
      reportFit(
        "tenon-root-tight",
        { radius: radiusFor(input) },
        { plate: plate.name, at: [at.x, at.y] },
      ),
    ),
  );
  const changes = wanted.flatMap((w, i) => changeOf(plate, w, made.reliefs[i]));
  findings.push(...changes.map((c) => changeFinding(plate, c)));
  return { plate: changes.length === 0 ? plate : withOuter(plate, made.outer), changes, findings };
}

/** Of hosts whose slots it fits, the one that it was drawn to reach through. */
function hostOf(tenon: Tenon, mates: readonly Met[]): Met | undefined {
  const off = (m: Met): number => Math.abs(tenon.reach - m.hostEntry.sheet.thickness);
  return mates.filter((m) => m.fits(tenon)).sort((a, b) => off(a) - off(b))[0];
}

/** The plate of the entry that this one was made from. */
function drawnOf(p: FitPlate, plate: Plate): Plate {
  return p.plates.find((q) => q.name === plate.name) ?? plate;
}

interface Wanted {
  readonly tenon: Tenon;
  readonly mate: Met;
  readonly longer: number;
}

function longerBy({ reach }: Tenon, { hostEntry: { sheet } }: Met): number {
  if (Math.abs(reach - sheet.thickness) > FLUSH || reach === 0) return 0;
  const measured = thicknessOf(sheet);
  // Drawn by the measured thickness already.
  if (Math.abs(reach - measured) <= Math.abs(reach - sheet.thickness)) return 0;
  const off = measured - sheet.thickness;
  return Math.abs(off) < 1e-9 ? 0 : off;
}

function shortFinding(plate: Plate, tenon: Tenon, mate: Met): Finding[] {
  const host = thicknessOf(mate.hostEntry.sheet);
  const found = tenon.reach + longerBy(tenon, mate);
  if (tenon.reach === 0 || found >= host - REACHES - 1e-9) return [];
  const data = { found, wanted: host, host: mate.hostEntry.name };
  const at = [tenon.at.x, tenon.at.y] as const;
  return [reportFit("tenon-too-short", data, { plate: plate.name, at })];
}

function radiusFor(input: FitInput): number {
  const cutter = smallestRouter(input.cutters);
  return cutter === undefined ? 0 : reliefRadius(cutter, input);
}

function bestOutline(
  input: FitInput,
  p: FitPlate,
  plate: Plate,
  wanted: readonly Wanted[],
): OutlineMade {
  const radius = radiusFor(input);
  const make = (chosen: "along-wall" | "bisector"): OutlineMade => {
    const list = wanted.map(({ tenon, mate, longer }): TenonWanted => {
      const wish = mate.wish.relief ?? "chosen";
      const way = radius === 0 ? "none" : wish === "chosen" ? chosen : wish;
      return { tenon, longer, way, radius };
    });
    return fittedOutline(plate.outer, list);
  };
  const ways = (["along-wall", "bisector"] as const).map((way) => {
    const made = make(way);
    // A way that leaves a root uncut is no way.
    return { made, web: made.tight.length > 0 ? -made.tight.length : webAlong(plate, made.outer) };
  });
  return leastTaken(ways, leastWeb(thicknessOf(p.sheet))) as OutlineMade;
}

function changeOf(
  plate: Plate,
  { tenon, mate, longer }: Wanted,
  relief: FitChange["relief"],
): FitChange[] {
  if (longer === 0 && relief === undefined) return [];
  const before = { width: tenon.width, length: tenon.reach };
  const change: FitChange = {
    plate: plate.name,
    what: "tenon",
    at: tenon.at,
    before,
    after: { ...before, length: tenon.reach + longer },
    with: mate.hostEntry.name,
    ...(relief === undefined ? {} : { relief }),
  };
  return [change];
}

function changeFinding(plate: Plate, change: FitChange): Finding {
  const { at, before, after, relief } = change;
  const data = {
    host: change.with ?? "",
    width: after.width,
    reachBefore: before.length,
    reach: after.length,
    relief: relief?.way ?? "none",
    radius: relief?.radius ?? 0,
    bite: relief?.bite ?? 0,
    corners: relief?.corners ?? 0,
  };
  return reportFit("tenon-fitted", data, { plate: plate.name, at: [at.x, at.y] });
}
