/**
 * An arm's outline in its own frame: X along the arm from the anchor, the motor at (length, 0).
 *
 * Straight and tapered flanks meet the pad in fillets. A tangent flank is one arc that leaves the root level
 * or falling, is narrowest at the waist and runs into the pad's circle without a corner.
 */
import { closeUp } from "../../geometry/contour.ts";
import { arc, line } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { joined } from "../shape/boolean.ts";
import { disc, strip } from "../shape/build.ts";
import { filled } from "../shape/round.ts";

export interface ArmShape {
  readonly shape: "straight" | "tapered" | "tangent";
  /** Where the arm begins, and where its flanks begin to narrow. */
  readonly start: number;
  readonly taperFrom: number;
  readonly length: number;
  /** Half widths. */
  readonly root: number;
  readonly tip: number;
  readonly pad: number;
  readonly fillet: number;
}

/** Undefined where the numbers allow no such arm. */
export function armOutline(a: ArmShape): Contour[] | undefined {
  if (a.shape === "tangent") {
    const c = tangentArm(a);
    return c === undefined ? undefined : [c];
  }
  const on = (x: number): Point => ({ x, y: 0 });
  const pad = disc(on(a.length), a.pad);
  const tip = a.shape === "straight" ? a.root : a.tip;
  let shape: Contour[] | undefined;
  if (a.taperFrom > a.start + 1e-6) {
    shape = taperedStrip(a, tip);
  } else {
    shape = [strip(on(a.start), on(a.length), a.root, tip)];
  }
  const whole = joined(shape, [pad]);
  return whole === undefined ? undefined : filled(whole, a.fillet);
}

function taperedStrip(a: ArmShape, tip: number): Contour[] {
  const [x0, x1, x2] = [a.start, a.taperFrom, a.length];
  const low: Point[] = [
    { x: x0, y: -a.root },
    { x: x1, y: -a.root },
    { x: x2, y: -tip },
  ];
  const all = [...low, ...low.map((p) => ({ x: p.x, y: -p.y })).reverse()];
  return [{ segments: all.map((p, i) => line(p, all[(i + 1) % all.length] as Point)) }];
}

/**
 * The flank's circle, radius ρ, middle (cx, tip + ρ): through the root's corner, and touching the pad's circle
 * from outside. Along X the two conditions give √(2ρa − a²) + √(2ρb + pad² − tip²) = length of the flank, with a = root − tip and
 * b = pad − tip; its left side grows with ρ, so halving finds it.
 */
function tangentArm({ start, taperFrom, length, root, tip, pad }: ArmShape): Contour | undefined {
  const a = root - tip;
  const b = pad - tip;
  if (a < 0 || b <= 0 || pad <= tip) return undefined;
  const flank = length - taperFrom;
  const reach = (r: number): number =>
    Math.sqrt(Math.max(0, 2 * r * a - a * a)) + Math.sqrt(2 * r * b + pad * pad - tip * tip);
  let lo = Math.max(a / 2, 0.5);
  let hi = 1e5;
  if (reach(lo) >= flank || reach(hi) <= flank) return undefined;
  for (let i = 0; i < 200 && hi - lo > 1e-12 * hi; i++) {
    const middle = (lo + hi) / 2;
    if (reach(middle) < flank) lo = middle;
    else hi = middle;
  }
  const r = (lo + hi) / 2;
  const cx = taperFrom + Math.sqrt(Math.max(0, 2 * r * a - a * a));
  const centre = (side: number): Point => ({ x: cx, y: side * (tip + r) });
  const k = pad / (pad + r);
  const onPad = (side: number): Point => ({
    x: length + (cx - length) * k,
    y: side * (tip + r) * k,
  });
  const corner = (x: number, side: number): Point => ({ x, y: side * root });
  const segments: Segment[] = [];
  if (taperFrom > start + 1e-6) segments.push(line(corner(start, -1), corner(taperFrom, -1)));
  segments.push(
    arc(corner(taperFrom, -1), onPad(-1), centre(-1), false),
    arc(onPad(-1), onPad(1), { x: length, y: 0 }, true),
    arc(onPad(1), corner(taperFrom, 1), centre(1), false),
  );
  if (taperFrom > start + 1e-6) segments.push(line(corner(taperFrom, 1), corner(start, 1)));
  segments.push(line(corner(start, 1), corner(start, -1)));
  return { segments: closeUp(segments) };
}
