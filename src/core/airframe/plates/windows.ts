/** Openings that the file names: boxes with rounded corners, clockwise. */
import { reversedContour } from "../../geometry/contour.ts";
import type { AirframeSpec } from "../file/schema.ts";
import type { Cutout } from "../model.ts";
import { roundedBox } from "../shape/build.ts";

export function wireWindows(
  windows: AirframeSpec["bottom"]["windows"],
  plate: "bottom" | "top",
): Cutout[] {
  return windows.map(({ at: [x, y], size: [w, h], corner }, i) => ({
    name: `window ${i + 1}`,
    contour: reversedContour(
      roundedBox({ x: x - w / 2, y: y - h / 2 }, { x: x + w / 2, y: y + h / 2 }, corner),
    ),
    parameter: `${plate}.windows`,
  }));
}
