/**
 * Metres of plate edge that each plate block of a routed program will cut, before anything is written. By the
 * same chart of the sheet as wear from a trace, so that the two agree.
 */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import type { Point } from "../../geometry/shape.ts";
import { hypot } from "../../geometry/trig.ts";
import { thicknessOf } from "../../layout/layout.ts";
import type { Cut, CutMove, CutProgram } from "../../toolpath/cut.ts";
import { engage, goneOver, newChart, type Way } from "./engaged.ts";
import { lengthOf } from "./wear.ts";

/** `zero`: the program's X0 Y0 in the sheet frame; the chart's cells lie about it. */
export function blockEdges(program: CutProgram, zero: Point): readonly number[] {
  const thickness = thicknessOf(program.sheet);
  const chart = newChart(effectiveDiameter(program.cutter), 0, thickness);
  return program.blocks.map(({ cuts }) => {
    const ways = cuts.flatMap((cut) => waysOf(cut, zero));
    const again = goneOver(ways);
    let area = 0;
    ways.forEach((way, i) => {
      const length = again[i] === 0 ? lengthOf(way) : 0;
      if (length > 0) area += engage(chart, way, length);
    });
    return area / thickness / 1000;
  });
}

/** At feed; between cuts nothing is cut. */
function waysOf({ start, startZ, moves }: Cut, zero: Point): Way[] {
  let x0 = start.x - zero.x;
  let y0 = start.y - zero.y;
  let z0 = startZ;
  return moves.map(({ to, z: z1, arc }) => {
    const x1 = to.x - zero.x;
    const y1 = to.y - zero.y;
    const way: Way = { x0, y0, z0, x1, y1, z1, arc: arc && turnOf(arc, to, zero) };
    x0 = x1;
    y0 = y1;
    z0 = z1;
    return way;
  });
}

function turnOf(
  { centre, sweep }: NonNullable<CutMove["arc"]>,
  to: Point,
  zero: Point,
): Way["arc"] {
  const radius = hypot(to.x - centre.x, to.y - centre.y);
  return { cx: centre.x - zero.x, cy: centre.y - zero.y, radius, sweep };
}
