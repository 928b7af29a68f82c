/**
 * What one number of an airframe file says about another, before anything is drawn: what cannot go together
 * is a finding that names the key to change.
 */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayAirframe } from "../finding/say-airframe.ts";
import { distance } from "../geometry/segment.ts";
import type { Point } from "../geometry/shape.ts";
import { clearanceHole } from "../plate/screw.ts";
import { mountReach, padRadius } from "./arms/mount.ts";
import type { AirframeFile } from "./file/parse.ts";
import type { Setting } from "./setting.ts";
import { boardSide, LEAST_EDGE } from "./sizes.ts";

const say = reporter(sayAirframe);

type Codes = Parameters<typeof say>[0];

export function rules(file: AirframeFile, s: Setting): Finding[] {
  const ask: Ask = (code, parameter, data) => {
    const place = file.placeOf(parameter.split("."));
    const all = { parameter, line: place.line, column: place.column, ...data };
    return say(code, all as never, { drawing: { file: place.file, line: place.line } });
  };
  return [
    ...discs(s, ask),
    ...motorMount(s, ask),
    ...armSizes(s, ask),
    ...armLength(s, ask),
    ...topPlate(s, ask),
    ...cameraRules(s, ask),
    ...clampRules(s, ask),
    ...boards(s, ask),
    ...tail(s, ask),
  ];
}

type Ask = (
  code: Codes,
  parameter: string,
  data: Readonly<Record<string, number | string>>,
) => Finding;

function discs({ spec, skeleton }: Setting, ask: Ask): Finding[] {
  const { clearance } = spec.propeller;
  if (skeleton.clearance >= clearance - 1e-6) return [];
  const data = {
    clearance: skeleton.clearance,
    wanted: clearance,
    wheelbase: skeleton.wheelbase,
    wheelbaseWanted: Math.ceil(skeleton.wheelbaseWanted),
  };
  return [ask("propellers-meet", "wheelbase", data)];
}

function motorMount({ spec, pad }: Setting, ask: Ask): Finding[] {
  const { motor } = spec;
  const given = [motor.boltCircle, motor.side, motor.pairs].filter((v) => v !== undefined).length;
  if (given !== 1) return [ask("motor-pattern", "motor", { given })];
  const d = clearanceHole(motor.screw, spec.fit);
  const reach = mountReach(spec);
  const least = reach - d / 2 + LEAST_EDGE * d;
  if (padRadius(spec) >= least - 1e-6) return [];
  return [ask("pad-small", "motor.pad", { pad: 2 * pad, wanted: Math.ceil(20 * least) / 10 })];
}

function armSizes({ spec, pad }: Setting, ask: Ask): Finding[] {
  const { arms } = spec;
  const findings: Finding[] = [];
  const tip = arms.tip ?? arms.root;
  if (tip > arms.root) {
    findings.push(ask("tip-over-root", "arms.tip", { tip, root: arms.root }));
  }
  const wide = arms.shape === "straight" ? arms.root : tip;
  if (wide > 2 * pad - 0.5) {
    const key = arms.shape === "straight" ? "arms.root" : "arms.tip";
    findings.push(ask("arm-over-pad", key, { width: wide, pad: 2 * pad }));
  }
  const own = clearanceHole(arms.screw, spec.fit);
  if (spec.construction === "separate-arms" && arms.root < 2 * LEAST_EDGE * own) {
    const wanted = Math.ceil(2 * LEAST_EDGE * own * 10) / 10;
    findings.push(ask("root-narrow", "arms.root", { root: arms.root, wanted, hole: own }));
  }
  return findings;
}

/** Between the body and the pad, mm: less is no arm. */
const LEAST_ARM = 4;

function armLength({ spec, arms, pad, rim }: Setting, ask: Ask): Finding[] {
  for (const { axis, root } of arms) {
    if (root === undefined) continue;
    const free = axis.length - pad - root.outer - rim;
    if (free >= LEAST_ARM) continue;
    const data = { free, wanted: LEAST_ARM, short: LEAST_ARM - free };
    return [ask("arm-short", spec.wheelbase === undefined ? "propeller" : "wheelbase", data)];
  }
  return [];
}

function topPlate({ spec, standoffs }: Setting, ask: Ask): Finding[] {
  if (spec.top === undefined) return [];
  const spread = standoffs.length >= 3 && !inLine(standoffs.map((p) => p.at));
  if (spread) return [];
  return [ask("top-unsupported", "standoffs.rows", { standoffs: standoffs.length })];
}

function inLine(points: readonly Point[]): boolean {
  const [a, ...rest] = points;
  if (a === undefined) return true;
  const b = rest.find((p) => distance(a, p) > 1);
  if (b === undefined) return true;
  return rest.every((p) => Math.abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) < 1e-6);
}

function cameraRules({ spec, levels }: Setting, ask: Ask): Finding[] {
  const { camera } = spec;
  if (camera === undefined) return [];
  if (spec.top === undefined) return [ask("camera-without-top", "camera", {})];
  if (spec.layout === "plus" && spec.clamp === undefined) {
    return [ask("camera-over-arm", "camera", { layout: spec.layout })];
  }
  const height = levels.topUnder - levels.deck;
  const wanted = 2 * camera.swing * 0.5 + 8;
  if (height >= wanted) return [];
  return [ask("camera-high", "standoffs.height", { height, wanted })];
}

function clampRules({ spec }: Setting, ask: Ask): Finding[] {
  if (spec.clamp === undefined || spec.construction === "separate-arms") return [];
  return [ask("clamp-without-arms", "clamp", {})];
}

function tail({ spec }: Setting, ask: Ask): Finding[] {
  return spec.layout === "tri" ? [ask("tail-servo", "layout", {})] : [];
}

/** Room between a standoff and what stands beside it, mm. */
export const STANDOFF_GAP = 0.3;

function boards({ spec, standoffs }: Setting, ask: Ask): Finding[] {
  const half = boardSide(spec) / 2;
  const key = spec.standoffs.rows === undefined ? "arms.pitch" : "standoffs.rows";
  for (const { at } of standoffs) {
    const out = { x: Math.max(0, Math.abs(at.x) - half), y: Math.max(0, Math.abs(at.y) - half) };
    const gap = Math.sqrt(out.x * out.x + out.y * out.y) - spec.standoffs.body / 2;
    if (gap >= STANDOFF_GAP - 1e-6) continue;
    const data = { x: at.x, y: at.y, of: "the boards", gap, wanted: STANDOFF_GAP };
    return [ask("standoff-in-way", key, data)];
  }
  return [];
}
