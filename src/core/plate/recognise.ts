/**
 * Loops of a drawing to plates: who is a plate and what is a hole in it follows from containment depth alone.
 *
 * Names: one plate takes the drawing's base name; several are base-1, base-2 … by the lower-left corner of
 * their boxes, x first. A plate drawn inside a window of another knows it.
 * Promise: outer contours counter-clockwise, inner ones clockwise, on the grid, merged; arcs exact to 1e-9.
 */
import type { Drawing, Loop } from "../drawing/drawing.ts";
import { boxAround } from "../drawing/mend/double/boxes.ts";
import type { Finding, Outcome } from "../finding/finding.ts";
import { reportPlate } from "../finding/say-plate.ts";
import { oriented, perimeter, signedArea } from "../geometry/contour.ts";
import type { Contour } from "../geometry/shape.ts";
import { featureOf } from "./feature.ts";
import { type Nest, nesting } from "./nesting.ts";
import type { Feature, Plate } from "./plate.ts";
import { tidyContour } from "./snap.ts";

export interface RecogniseOptions {
  /** Layer → depth, mm: loops on it are recesses, not holes. */
  readonly recess?: Readonly<Record<string, number>> | undefined;
}

interface Draft {
  readonly loop: Loop;
  readonly contour: Contour;
  readonly depth: number | undefined;
}

export function recognise(
  drawing: Drawing,
  baseName: string,
  options: RecogniseOptions = {},
): Outcome<Plate[]> {
  const findings: Finding[] = [];
  const drafts = draftsOf(drawing, options, findings);
  const through = drafts.filter((d) => d.depth === undefined);
  const nests = nesting(through.map((d) => d.contour));
  const children = childrenOf(nests);
  const outers = sortedOuters(through, nests);
  const names = new Map(
    outers.map((i, n) => [i, outers.length === 1 ? baseName : `${baseName}-${n + 1}`]),
  );
  const featureIds = new Map<number, { plate: string; feature: number }>();
  const plates = outers.map((outer) => {
    const name = names.get(outer) as string;
    const holes = children.get(outer) ?? [];
    const features: Feature[] = holes.map((h, id) => {
      featureIds.set(h, { plate: name, feature: id });
      const draft = through[h] as Draft;
      return { ...featureOf(id, draft.contour, undefined), drawnArea: drawnArea(draft.loop) };
    });
    return plateOf(drawing, name, through[outer] as Draft, features);
  });
  const placed = withRecesses(plates, drafts, findings, drawing.file);
  return {
    value: placed.map((p, k) => withHost(p, nests[outers[k] as number] as Nest, featureIds)),
    findings,
  };
}

function childrenOf(nests: readonly Nest[]): Map<number, number[]> {
  const children = new Map<number, number[]>();
  nests.forEach(({ parent }, i) => {
    const known = children.get(parent);
    if (known === undefined) children.set(parent, [i]);
    else known.push(i);
  });
  return children;
}

function draftsOf(drawing: Drawing, options: RecogniseOptions, findings: Finding[]): Draft[] {
  const recess = new Map(
    Object.entries(options.recess ?? {}).map(([layer, depth]) => [layer.toUpperCase(), depth]),
  );
  const drafts: Draft[] = [];
  for (const loop of drawing.loops) {
    const contour = tidyContour(loop.contour, true);
    const depth = recess.get(loop.layer.toUpperCase());
    if (contour !== undefined) {
      drafts.push({ loop, contour, depth });
      continue;
    }
    const origin = loop.contour.segments[0]?.origin;
    const { x, y } = loop.contour.segments[0]?.from ?? { x: 0, y: 0 };
    findings.push(reportPlate("loop-vanishes", { x, y }, { at: [x, y], drawing: origin }));
  }
  return drafts;
}

function sortedOuters(drafts: readonly Draft[], nests: readonly Nest[]): number[] {
  const outers = nests.flatMap((n, i) => (n.depth % 2 === 0 ? [i] : []));
  const corner = outers.map((i) => boxAround((drafts[i] as Draft).contour).min);
  const order = outers.map((_, k) => k);
  order.sort((a, b) => {
    const p = corner[a] as { x: number; y: number };
    const q = corner[b] as { x: number; y: number };
    return p.x - q.x || p.y - q.y || a - b;
  });
  return order.map((k) => outers[k] as number);
}

/** Facets that are cut as a circle count as facets, and coordinates as they were before they came on the grid. */
function drawnArea(loop: Loop): number {
  return loop.drawnArea ?? Math.abs(signedArea(loop.contour));
}

function plateOf(drawing: Drawing, name: string, draft: Draft, holes: readonly Feature[]): Plate {
  const outer = draft.contour;
  const features = holes.map((f) => ({ ...f, contour: clockwise(f.contour) }));
  const area = features.reduce((a, f) => a - f.area, signedArea(outer));
  const drawn = holes.reduce((a, f) => a - (f.drawnArea ?? f.area), drawnArea(draft.loop));
  return {
    name,
    drawing: drawing.file,
    outer,
    features,
    area,
    drawnArea: drawn,
    perimeter: perimeter(outer),
    bounds: boxAround(outer),
    origin: outer.segments[0]?.origin,
  };
}

function clockwise(c: Contour): Contour {
  return oriented(c, false);
}

/** Each recess goes to the smallest plate that holds it. */
function withRecesses(
  plates: readonly Plate[],
  drafts: readonly Draft[],
  findings: Finding[],
  file: string,
): Plate[] {
  const recesses = drafts.filter((d) => d.depth !== undefined);
  if (recesses.length === 0) return [...plates];
  const extra = plates.map((): Feature[] => []);
  for (const r of recesses) {
    const nests = nesting([r.contour, ...plates.map((p) => p.outer)]);
    const host = (nests[0]?.parent ?? -1) - 1;
    const plate = plates[host];
    if (plate === undefined) {
      const { x, y } = boxAround(r.contour).min;
      findings.push(
        reportPlate(
          "recess-outside",
          { x, y, layer: r.loop.layer },
          { at: [x, y], drawing: { file } },
        ),
      );
      continue;
    }
    const id = plate.features.length + (extra[host]?.length ?? 0);
    extra[host]?.push(featureOf(id, clockwise(r.contour), r.depth));
  }
  return plates.map((p, i) => ({ ...p, features: [...p.features, ...(extra[i] ?? [])] }));
}

function withHost(
  plate: Plate,
  nest: Nest,
  features: ReadonlyMap<number, { plate: string; feature: number }>,
): Plate {
  const drawnInside = features.get(nest.parent);
  return drawnInside === undefined ? plate : { ...plate, drawnInside };
}
