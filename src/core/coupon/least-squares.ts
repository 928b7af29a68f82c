/**
 * Linear least squares with uncertainty: x that makes |A x − y| least, by Householder reflections (Golub & Van Loan,
 * Matrix Computations, ch. 5), which keep twice the digits that normal equations would.
 *
 * Words: the *residual deviation* s is √(Σr²/(n − p)); a value's *standard error* is s √((AᵀA)⁻¹)ᵢᵢ.
 */

export interface Solution {
  readonly values: readonly number[];
  readonly errors: readonly number[];
  readonly residuals: readonly number[];
  /** s; 0 where there are no more rows than unknowns. */
  readonly deviation: number;
  readonly freedom: number;
}

/** A column no longer than this share of the longest is told by the others: nothing can be said of its unknown. */
const SINGULAR = 1e-10;

/** Undefined where the rows do not tell all unknowns. `leastDeviation` stands in where residuals are too few or too small. */
export function leastSquares(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  leastDeviation = 0,
): Solution | undefined {
  const n = rows.length;
  const p = rows[0]?.length ?? 0;
  if (n < p || p === 0) return undefined;
  const a = rows.map((r) => [...r]);
  const b = [...y];
  if (!triangular(a, b, p)) return undefined;
  const values = backSolve(a, b, p);
  const residuals = rows.map((r, i) => (y[i] as number) - dot(r, values));
  const freedom = n - p;
  const sum = residuals.reduce((s, r) => s + r * r, 0);
  const own = freedom > 0 ? Math.sqrt(sum / freedom) : 0;
  const deviation = Math.max(own, leastDeviation);
  const errors = values.map((_, k) => deviation * Math.sqrt(inverseDiagonal(a, p, k)));
  return { values, errors, residuals, deviation, freedom };
}

/** A becomes R in its upper p rows, b becomes Qᵀb. False where R is singular. */
function triangular(a: number[][], b: number[], p: number): boolean {
  const n = a.length;
  let longest = 0;
  for (let k = 0; k < p; k++) {
    let norm = 0;
    for (let i = k; i < n; i++) norm += at(a, i, k) ** 2;
    norm = Math.sqrt(norm);
    longest = Math.max(longest, norm);
    if (norm <= SINGULAR * longest) return false;
    const head = at(a, k, k);
    const alpha = head > 0 ? -norm : norm;
    const v = a.map((row, i) => (i < k ? 0 : (row[k] as number)));
    v[k] = head - alpha;
    const vv = dot(v, v);
    for (let j = k; j < p; j++)
      reflect(
        v,
        vv,
        (i) => at(a, i, j),
        (i, x) => {
          (a[i] as number[])[j] = x;
        },
      );
    reflect(
      v,
      vv,
      (i) => b[i] as number,
      (i, x) => {
        b[i] = x;
      },
    );
  }
  return true;
}

function reflect(
  v: readonly number[],
  vv: number,
  get: (i: number) => number,
  set: (i: number, x: number) => void,
): void {
  let s = 0;
  for (let i = 0; i < v.length; i++) s += (v[i] as number) * get(i);
  const f = (2 * s) / vv;
  for (let i = 0; i < v.length; i++) set(i, get(i) - f * (v[i] as number));
}

function backSolve(r: readonly (readonly number[])[], b: readonly number[], p: number): number[] {
  const x = new Array<number>(p).fill(0);
  for (let k = p - 1; k >= 0; k--) {
    let s = b[k] as number;
    for (let j = k + 1; j < p; j++) s -= at(r, k, j) * (x[j] as number);
    x[k] = s / at(r, k, k);
  }
  return x;
}

/** ((RᵀR)⁻¹)ₖₖ = |R⁻ᵀ eₖ|². */
function inverseDiagonal(r: readonly (readonly number[])[], p: number, k: number): number {
  const z = new Array<number>(p).fill(0);
  for (let i = 0; i < p; i++) {
    let s = i === k ? 1 : 0;
    for (let j = 0; j < i; j++) s -= at(r, j, i) * (z[j] as number);
    z[i] = s / at(r, i, i);
  }
  return dot(z, z);
}

function at(a: readonly (readonly number[])[], i: number, j: number): number {
  return (a[i] as readonly number[])[j] as number;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((s, v, i) => s + v * (b[i] as number), 0);
}

/** Two-sided 95 % points of Student's t for 1, 2, … degrees of freedom; any table of statistics. */
const STUDENT = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145,
  2.131, 2.12, 2.11, 2.101, 2.093, 2.086,
];

/** Beyond 20 degrees of freedom 2.08 is never too small; for none the normal law's 1.96 with an assumed deviation. */
export function student95(freedom: number): number {
  if (freedom < 1) return 1.96;
  return STUDENT[freedom - 1] ?? 2.08;
}
