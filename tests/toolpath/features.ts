/** Inner contours as the features that a drawing would give. */

import { readDrawing } from "../../src/core/drawing/read.ts";
import { writeDxf } from "../../src/core/drawing/write-dxf.ts";
import { bounds, oriented, rectangle } from "../../src/core/geometry/contour.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import type { Feature } from "../../src/core/plate/plate.ts";
import { recognise } from "../../src/core/plate/recognise.ts";

/** Through the door that drawings take: written, read, recognised. */
export function recogniseFeatures(inner: readonly Contour[]): Feature[] {
  const boxes = inner.map(bounds);
  const around = rectangle(
    Math.min(...boxes.map((b) => b.min.x)) - 50,
    Math.min(...boxes.map((b) => b.min.y)) - 50,
    Math.max(...boxes.map((b) => b.max.x)) + 50,
    Math.max(...boxes.map((b) => b.max.y)) + 50,
  );
  const text = writeDxf([
    { name: "CUT", contours: [around, ...inner.map((c) => oriented(c, true))] },
  ]);
  const drawing = readDrawing("inner.dxf", new TextEncoder().encode(text), {});
  return [...(recognise(drawing, "plate").value[0]?.features ?? [])];
}
