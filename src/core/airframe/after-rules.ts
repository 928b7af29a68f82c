/** What only the finished plates can tell: propellers over the body, plates that could not be lightened. */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayAirframe } from "../finding/say-airframe.ts";
import type { Airframe } from "./build-plates.ts";
import type { AirframeEstimate } from "./estimate/estimate.ts";
import type { AirframeFile } from "./file/parse.ts";

const say = reporter(sayAirframe);

/** Propellers this far above the top plate pass over what is on it but for the battery, mm. */
export const OVER = 3;

export function afterRules(file: AirframeFile, a: Airframe, estimate: AirframeEstimate): Finding[] {
  return [...overBody(file, estimate), ...lightening(file, a)];
}

function keyed(file: AirframeFile, parameter: string) {
  const place = file.placeOf(parameter.split("."));
  return {
    data: { parameter, line: place.line, column: place.column },
    spot: { drawing: { file: place.file, line: place.line } },
  };
}

function overBody(file: AirframeFile, estimate: AirframeEstimate): Finding[] {
  const { bodyClearance, propellersOver } = estimate;
  const wanted = file.spec.propeller.bodyClearance;
  if (bodyClearance === undefined || propellersOver === undefined) return [];
  if (bodyClearance >= wanted - 1e-6) return [];
  const key = file.spec.wheelbase === undefined ? "propeller.clearance" : "wheelbase";
  const { data, spot } = keyed(file, key);
  const own = { ...data, clearance: bodyClearance, wanted };
  if (propellersOver < OVER) return [say("propeller-through-plate", own, spot)];
  return [say("propeller-over-plate", { ...own, above: propellersOver }, spot)];
}

function lightening(file: AirframeFile, { plates }: Airframe): Finding[] {
  const wanted = file.spec.lighten?.plates ?? [];
  return plates.flatMap((p) => {
    if (p.role === "bracket" || !wanted.includes(p.role) || p.lightened > 0) return [];
    const { data, spot } = keyed(file, "lighten");
    return [say("nothing-lightened", { ...data, plate: p.name }, { ...spot, plate: p.name })];
  });
}
