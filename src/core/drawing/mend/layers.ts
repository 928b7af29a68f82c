/**
 * Which layers are cut: those the job names, else those the drawing shows. What a drawing hides is left out
 * and offered, because some people hide the true outline.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import type { Ignored, ReadOptions } from "../drawing.ts";

export type Leave = (layer: string, hidden: string | undefined) => string | undefined;

/** Reasons that `offers` looks for. */
export const HIDDEN_WHY: ReadonlySet<string> = new Set([
  "layer is off",
  "layer is frozen",
  "hidden",
]);
const NOT_NAMED = "layer not among those to cut";

/** Why a thing on this layer is left out; undefined where it is cut. `hidden`: what the drawing says. */
export function layerRule(options: ReadOptions): Leave {
  const cut = options.cutLayers === undefined ? undefined : upperSet(options.cutLayers);
  const ignored = upperSet(options.ignoreLayers ?? []);
  return (layer, hidden) => {
    const key = layer.toUpperCase();
    if (ignored.has(key)) return "layer left out by the job";
    // A layer that the job names is wanted, hidden or not.
    if (cut !== undefined) return cut.has(key) ? undefined : NOT_NAMED;
    return hidden;
  };
}

function upperSet(names: readonly string[]): ReadonlySet<string> {
  return new Set(names.map((n) => n.toUpperCase()));
}

/** One offer for each hidden layer that holds something that could be cut. */
export function offers(
  file: string,
  ignored: readonly Ignored[],
  cuttable: ReadonlySet<string>,
): Finding[] {
  const byLayer = new Map<string, { count: number; why: string }>();
  for (const i of ignored) {
    if (!HIDDEN_WHY.has(i.why) || !cuttable.has(i.type)) continue;
    const name = i.layer ?? "";
    const known = byLayer.get(name);
    byLayer.set(name, { count: (known?.count ?? 0) + i.count, why: i.why });
  }
  return [...byLayer].map(([layer, { count, why }]) =>
    reportDrawing("layer-hidden", { layer, count, why }, { drawing: { file } }),
  );
}
