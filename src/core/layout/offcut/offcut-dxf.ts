/**
 * An offcut as a drawing: its outline, and beside the plan its name, thickness and fibre direction as text.
 *
 * Promise: read as a sheet's outline, the drawing gives the offcut back, its box's lower-left corner at zero,
 * turned as it lay, so that `fibreDeg` is the sheet's own.
 */

import { writeDxf } from "../../drawing/write-dxf.ts";
import { bounds, placeContour } from "../../geometry/contour.ts";
import { radians } from "../../geometry/trig.ts";
import type { Offcut } from "./offcut.ts";

const TEXT_HEIGHT = 5;

export function offcutDxf(offcut: Offcut, name: string): string {
  const { min, max } = bounds(offcut.outline);
  const outline = placeContour(offcut.outline, { x: -min.x, y: -min.y, angle: 0, flipped: false });
  const height = Math.min(TEXT_HEIGHT, (max.y - min.y) / 12);
  const at = {
    x: (offcut.clear.min.x + offcut.clear.max.x) / 2 - min.x,
    y: (offcut.clear.min.y + offcut.clear.max.y) / 2 - min.y,
  };
  const fibre = `fibre ${Number(offcut.fibreDeg.toFixed(2))} deg`;
  const lines = [name, `${Number(offcut.thickness.toFixed(3))} mm thick`];
  return writeDxf([
    { name: "SHEET", contours: [outline], colour: 8 },
    {
      name: "NOTES",
      contours: [],
      colour: 3,
      labels: [
        ...lines.map((text, i) => ({
          text,
          at: { x: at.x, y: at.y - (i - 1) * 1.8 * height },
          height,
        })),
        // Written along the fibres.
        {
          text: fibre,
          at: { x: at.x, y: at.y - 2.6 * height },
          height,
          angle: radians(offcut.fibreDeg),
        },
      ],
    },
  ]);
}
