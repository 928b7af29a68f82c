/**
 * From an airframe file to all that `weftcut draft` writes: drawings, a job that cuts them, parts, pictures,
 * a sheet, and airframe.json for whoever reads by machine.
 *
 * Promise: same file, same bytes. Nothing throws on bad input; a finding of severity `stop` means that no file
 * is made. The job that is written reads without a stop: it is read once before it is handed over.
 */
import { writeDxf } from "../drawing/write-dxf.ts";
import { writeSvg } from "../drawing/write-svg.ts";
import { type Finding, stops } from "../finding/finding.ts";
import { bounds } from "../geometry/contour.ts";
import { type NamedText, parseJob, type ReadBeside } from "../job/parse.ts";
import { afterRules, OVER } from "./after-rules.ts";
import { type Airframe, buildPlates } from "./build-plates.ts";
import { type AirframeEstimate, estimateAirframe } from "./estimate/estimate.ts";
import { type AirframeFile, parseAirframe } from "./file/parse.ts";
import type { AirframePlate } from "./model.ts";
import { type AirframeJson, airframeJson } from "./out/airframe-json.ts";
import { drawingOf, jobText, tidy } from "./out/job-text.ts";
import { type HardwareItem, hardware, partsCsv } from "./out/parts.ts";
import { pictureAbove, pictureSide } from "./out/picture.ts";
import { airframeSheet } from "./out/sheet.ts";

export interface Drafted {
  readonly airframe: Airframe | undefined;
  readonly estimate: AirframeEstimate | undefined;
  readonly json: AirframeJson | undefined;
  /** By name; empty where stopped. */
  readonly files: ReadonlyMap<string, string | Uint8Array>;
  readonly findings: readonly Finding[];
}

export function draftAirframe(file: NamedText, readBeside: ReadBeside): Drafted {
  const parsed = parseAirframe(file, readBeside);
  if (parsed.value === undefined) return nothing(parsed.findings);
  const built = buildPlates(parsed.value);
  const findings = [...parsed.findings, ...built.findings];
  if (stops(findings)) return nothing(findings);
  const airframe = built.value;
  const estimate = estimateAirframe(airframe);
  findings.push(...afterRules(parsed.value, airframe, estimate));
  if (stops(findings)) return { ...nothing(findings), airframe, estimate };
  const job = jobText({
    name: airframe.setting.spec.name,
    rest: parsed.value.rest,
    plates: airframe.plates,
    props: propsOf(airframe, estimate),
  });
  const read = parseJob({ name: "job.yaml", text: job }, besideOf(parsed.value));
  findings.push(...read.findings.filter((f) => f.severity === "stop"));
  if (stops(findings)) return { ...nothing(findings), airframe, estimate };
  return written({ file: parsed.value, airframe, estimate, job, findings });
}

/** Discs in the airframe frame, which is the top plate's own; it is beside them where they do not pass over it. */
function propsOf({ setting }: Airframe, estimate: AirframeEstimate): Record<string, unknown> {
  const { propeller, top } = setting.spec;
  const isBeside = top !== undefined && (estimate.propellersOver ?? 0) < OVER;
  return {
    diameter: propeller.diameter,
    at: setting.arms.map(({ axis }) => [tidy(axis.motor.x), tidy(axis.motor.y)]),
    ...(isBeside ? { beside: ["top"] } : {}),
    gap: isBeside
      ? Math.min(propeller.clearance, propeller.bodyClearance)
      : tidy(Math.min(propeller.clearance, estimate.discClearance)),
  };
}

function nothing(findings: readonly Finding[]): Drafted {
  return { airframe: undefined, estimate: undefined, json: undefined, files: new Map(), findings };
}

function besideOf(file: AirframeFile): ReadBeside {
  return (name) => file.besides.get(name);
}

interface Writing {
  readonly file: AirframeFile;
  readonly airframe: Airframe;
  readonly estimate: AirframeEstimate;
  readonly job: string;
  readonly findings: readonly Finding[];
}

function written({ file, airframe, estimate, job, findings }: Writing): Drafted {
  const files = new Map<string, string | Uint8Array>();
  for (const plate of airframe.plates) {
    files.set(drawingOf(plate), plateDxf(plate));
    files.set(`${plate.name}.svg`, plateSvg(plate));
  }
  for (const [name, bytes] of file.besides) files.set(name, bytes);
  const items: readonly HardwareItem[] = hardware(airframe);
  const above = pictureAbove(airframe);
  const side = pictureSide(airframe);
  files.set("job.yaml", job);
  files.set("parts.csv", partsCsv(items, airframe.plates));
  files.set("assembly-above.svg", above);
  files.set("assembly-side.svg", side);
  files.set(
    "airframe-sheet.html",
    airframeSheet({ airframe, estimate, hardware: items, above, side, findings }),
  );
  const names = [...files.keys(), "airframe.json"];
  const json = airframeJson({ airframe, estimate, hardware: items, files: names, findings });
  files.set("airframe.json", `${JSON.stringify(json, null, 1)}\n`);
  return { airframe, estimate, json, files, findings };
}

/** Layer that is cut. */
const CUT = "CUT";

function plateDxf(plate: AirframePlate): string {
  const contours = [plate.outer, ...plate.cutouts.map((c) => c.contour)];
  return writeDxf([{ name: CUT, contours }]);
}

/** Around the drawing on its page, mm. */
const PAGE_RIM = 5;

function plateSvg(plate: AirframePlate): string {
  const contours = [plate.outer, ...plate.cutouts.map((c) => c.contour)];
  const { min, max } = bounds(plate.outer);
  const page = {
    min: { x: min.x - PAGE_RIM, y: min.y - PAGE_RIM },
    max: { x: max.x + PAGE_RIM, y: max.y + PAGE_RIM },
  };
  return writeSvg([{ name: CUT, contours }], page, plate.name);
}
