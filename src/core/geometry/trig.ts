/**
 * The transcendental functions, in one place: two engines may differ in the last bit of `Math.sin`,
 * and the same input must give the same bytes on the command line and in the browser. Whoever needs
 * to pin them down does so here. `sqrt` is exact by IEEE 754 and needs no gate.
 */
export const TAU: number = 2 * Math.PI;

export const sin: (angle: number) => number = Math.sin;
export const cos: (angle: number) => number = Math.cos;
export const tan: (angle: number) => number = Math.tan;
export const asin: (x: number) => number = Math.asin;
export const acos: (x: number) => number = Math.acos;
export const atan: (x: number) => number = Math.atan;
export const atan2: (y: number, x: number) => number = Math.atan2;
export const exp: (x: number) => number = Math.exp;
export const log: (x: number) => number = Math.log;
export const pow: (x: number, y: number) => number = Math.pow;

/** Plain √(x² + y²): plates are metres at most, so nothing overflows and `Math.hypot` is slow. */
export function hypot(x: number, y: number): number {
  return Math.sqrt(x * x + y * y);
}

export function radians(deg: number): number {
  return (deg * Math.PI) / 180;
}

export function degrees(rad: number): number {
  return (rad * 180) / Math.PI;
}
