/** A move that was read, written again in the dialect of a machine. */
import type { TraceMove } from "../program/read/trace.ts";
import { afresh, feedMove, type Lines, rapidXY, rapidZ } from "../program/write/lines.ts";

/** `clearance` in the frame of the program that was read. */
export function replay(l: Lines, m: TraceMove, clearance: number): void {
  const to = { x: m.x1, y: m.y1 };
  if (m.kind === "feed") {
    const arc = m.arc && { centre: { x: m.arc.cx, y: m.arc.cy }, sweep: m.arc.sweep };
    feedMove(l, { to, z: m.z1, arc, feed: m.feed });
    return;
  }
  // Up first, down last; each rise is said again, so that every cut starts safe by itself.
  if (m.z1 >= m.z0) {
    if (m.z1 >= clearance - 1e-6) {
      afresh(l);
      l.z = undefined;
    }
    rapidZ(l, m.z1);
    rapidXY(l, to);
  } else {
    rapidXY(l, to);
    rapidZ(l, m.z1);
  }
}
