/**
 * The transcendental functions, in one place: the same input must give the same bytes on the command line and in
 * every browser, and engines differ in the last bits of all of `Math.sin`, `cos`, `tan`, `asin`, `acos`, `atan`,
 * `atan2`, `exp`, `log` and `pow`. So they are worked out here, from sums, products, quotients and roots alone, which
 * IEEE 754 defines to the bit.
 *
 * Way: the argument is brought near zero by constants that are held to twice a double's digits, and a Taylor
 * series does the rest; its first left-out term is below a tenth of a last place.
 *
 * Promise: within 1.5 units in the last place of the true value for sin, cos, atan, exp and within 2.5 for the rest (pow
 * apart: 1e-14 of its value for the powers that are used here), for angles up to 1e6. Held to the engine's own by a test.
 */
export const TAU: number = 2 * Math.PI;

/** π/2 in three parts, the first two of 33 bits: multiples of them up to 2²⁰ are exact. */
const HALF_PI_1 = 1.5707963267341256;
const HALF_PI_2 = 6.077100506303966e-11;
const HALF_PI_3 = 2.0222662487959506e-21;
/** What π is more than the double next to it. */
const PI_REST = 1.2246467991473532e-16;

/** The angle less quarter turns, |rest| ≤ π/4, as a sum of two doubles; the turns are counted in `quarters`. */
let rest = 0;
let restLow = 0;
let quarters = 0;

function reduce(angle: number): void {
  if (angle > -0.785398 && angle < 0.785398) {
    rest = angle;
    restLow = 0;
    quarters = 0;
    return;
  }
  const k = Math.round(angle * (2 / Math.PI));
  const first = angle - k * HALF_PI_1;
  const second = k * HALF_PI_2;
  const near = first - second;
  const third = k * HALF_PI_3 - (first - near - second);
  rest = near - third;
  restLow = near - rest - third;
  quarters = k & 3;
}

/** sin(x + low) for |x| ≤ π/4: terms up to x¹⁷. */
function sineNear(x: number, low: number): number {
  const z = x * x;
  const r =
    -1 / 6 +
    z *
      (1 / 120 +
        z *
          (-1 / 5040 +
            z *
              (1 / 362880 +
                z *
                  (-1 / 39916800 +
                    z * (1 / 6227020800 + z * (-1 / 1307674368000 + z * (1 / 355687428096000)))))));
  return x + (x * z * r + low * (1 - 0.5 * z));
}

/** cos(x + low) for |x| ≤ π/4: terms up to x¹⁸. */
function cosineNear(x: number, low: number): number {
  const z = x * x;
  const r =
    1 / 24 +
    z *
      (-1 / 720 +
        z *
          (1 / 40320 +
            z *
              (-1 / 3628800 +
                z *
                  (1 / 479001600 +
                    z *
                      (-1 / 87178291200 +
                        z * (1 / 20922789888000 - z * (1 / 6402373705728000)))))));
  const half = 0.5 * z;
  const head = 1 - half;
  return head + (1 - head - half + (z * z * r - x * low));
}

export function sin(angle: number): number {
  // Zero keeps its sign.
  if (angle === 0) return angle;
  reduce(angle);
  const value = (quarters & 1) === 0 ? sineNear(rest, restLow) : cosineNear(rest, restLow);
  return quarters > 1 ? -value : value;
}

export function cos(angle: number): number {
  reduce(angle);
  const value = (quarters & 1) === 0 ? cosineNear(rest, restLow) : sineNear(rest, restLow);
  return quarters === 1 || quarters === 2 ? -value : value;
}

export function tan(angle: number): number {
  if (angle === 0) return angle;
  reduce(angle);
  const s = sineNear(rest, restLow);
  const c = cosineNear(rest, restLow);
  return (quarters & 1) === 0 ? s / c : -c / s;
}

/** atan(k/8), and what each is more than the double next to it. */
const ATAN: readonly number[] = [
  0, 0.12435499454676144, 0.24497866312686414, 0.35877067027057225, 0.4636476090008061,
  0.5585993153435624, 0.6435011087932844, 0.7188299996216245, 0.7853981633974483,
];
const ATAN_REST: readonly number[] = [
  0, -3.1253241424539383e-18, 1.0698755618734451e-17, -2.4623815582638635e-17,
  2.2698777452961687e-17, -5.4556305485916264e-18, 1.5834785051444286e-17, -2.1478388444456983e-17,
  3.061616997868383e-17,
];

/** For 0 ≤ x ≤ 1, by the nearest eighth: atan x − atan c = atan((x − c) / (1 + x c)). Terms up to t¹⁵. */
function atanToOne(x: number): number {
  const k = Math.round(8 * x);
  const c = k / 8;
  const t = (x - c) / (1 + x * c);
  const z = t * t;
  const r =
    z *
    (-1 / 3 +
      z * (1 / 5 + z * (-1 / 7 + z * (1 / 9 + z * (-1 / 11 + z * (1 / 13 - z * (1 / 15)))))));
  return (ATAN[k] as number) + (t + (t * r + (ATAN_REST[k] as number)));
}

export function atan(x: number): number {
  if (x === 0 || Number.isNaN(x)) return x;
  const size = Math.abs(x);
  const value = size <= 1 ? atanToOne(size) : Math.PI / 2 - (atanToOne(1 / size) - PI_REST / 2);
  return x < 0 ? -value : value;
}

export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  const back = x < 0 || (y === 0 && Object.is(x, -0));
  const down = y < 0 || Object.is(y, -0);
  const value = angleTo(Math.abs(y), Math.abs(x), back);
  return down ? -value : value;
}

/** Of y ≥ 0 and |x| = `across`, to the right or `back` to the left. */
function angleTo(y: number, across: number, back: boolean): number {
  const flat = y === across ? 1 : y < across ? y / across : across / y;
  if (y === 0 || y <= across) {
    const value = y === 0 ? 0 : atanToOne(flat);
    return back ? Math.PI - (value - PI_REST) : value;
  }
  const value = atanToOne(flat);
  return back ? Math.PI / 2 + (value + PI_REST / 2) : Math.PI / 2 - (value - PI_REST / 2);
}

export function asin(x: number): number {
  return atan2(x, Math.sqrt((1 - x) * (1 + x)));
}

export function acos(x: number): number {
  return atan2(Math.sqrt((1 - x) * (1 + x)), x);
}

/** ln 2 in two parts, the first of 33 bits. */
const LN2_1 = 0.6931471804855391;
const LN2_2 = 7.440617110012397e-11;

/** Terms up to r¹⁴ of what is left when whole powers of two are taken out. */
export function exp(x: number): number {
  if (!(x > -745.2)) return Number.isNaN(x) ? x : 0;
  if (x > 709.8) return Number.POSITIVE_INFINITY;
  const k = Math.round(x / Math.LN2);
  const r = x - k * LN2_1 - k * LN2_2;
  let sum = 0;
  for (let n = 14; n > 0; n--) sum = (1 + sum) * (r / n);
  return scaled(1 + sum, k);
}

/** By the powers of two, which is exact. */
function scaled(value: number, k: number): number {
  let by = value;
  for (let i = 0; i < k; i++) by *= 2;
  for (let i = 0; i > k; i--) by /= 2;
  return by;
}

/** ln m = 2 (s + s³/3 + …) with s = (m − 1) / (m + 1), once m is between √½ and √2. */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  let m = x;
  let k = 0;
  for (; m > Math.SQRT2; k++) m /= 2;
  for (; m < Math.SQRT1_2; k--) m *= 2;
  const s = (m - 1) / (m + 1);
  const z = s * s;
  let sum = 0;
  for (let n = 25; n > 1; n -= 2) sum = (sum + 1 / n) * z;
  return k * LN2_1 + (2 * s + (2 * s * sum + k * LN2_2));
}

export function pow(x: number, y: number): number {
  if (y === 0) return 1;
  return x === 0 ? (y > 0 ? 0 : Number.POSITIVE_INFINITY) : exp(y * log(x));
}

/** Whole powers by products: engines round `**` above squares differently, too. */
export function power(x: number, n: number): number {
  let product = 1;
  for (let i = Math.abs(n); i > 0; i--) product *= x;
  return n < 0 ? 1 / product : product;
}

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
