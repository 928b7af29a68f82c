/** What is in a drawing, as the `inspect --json` document. */
import { degrees } from "../../geometry/trig.ts";
import type { Feature, Plate } from "../../plate/plate.ts";
import type { Drawing } from "../drawing.ts";

type Json = Readonly<Record<string, unknown>>;

export function inspectJson(drawing: Drawing, plates: readonly Plate[]): Json {
  return {
    file: drawing.file,
    format: drawing.format,
    units: drawing.units,
    bounds: pair(drawing.bounds),
    plates: plates.map(plateJson),
    openChains: drawing.openChains.map((c) => ({
      start: [c.start.x, c.start.y],
      end: [c.end.x, c.end.y],
      gap: c.gap,
      drawing: c.drawing,
    })),
    ignored: drawing.ignored,
    repairs: drawing.repairs,
    findings: drawing.findings,
  };
}

function pair(b: Drawing["bounds"]): Json {
  return { min: [tidy(b.min.x), tidy(b.min.y)], max: [tidy(b.max.x), tidy(b.max.y)] };
}

/** To the picometre: turning and adding leave noise behind, which is nobody's measure. */
function tidy(v: number): number {
  return Math.round(v * 1e9) / 1e9 + 0;
}

function plateJson(p: Plate): Json {
  return {
    name: p.name,
    // What is in the drawing: facets that are cut as a circle count as facets here.
    area: p.drawnArea ?? p.area,
    cutArea: p.area,
    perimeter: p.perimeter,
    bounds: pair(p.bounds),
    holes: p.features.filter((f) => f.kind !== "recess").length,
    features: p.features.map(featureJson),
  };
}

function featureJson(f: Feature): Json {
  return {
    kind: f.kind,
    at: [f.at.x, f.at.y],
    ...(f.diameter === undefined ? {} : { diameter: f.diameter }),
    ...(f.width === undefined ? {} : { width: f.width }),
    ...(f.length === undefined ? {} : { length: f.length }),
    ...(f.angle === undefined ? {} : { angleDeg: degrees(f.angle) }),
    ...(f.depth === undefined ? {} : { depth: f.depth }),
    area: f.drawnArea ?? f.area,
  };
}
