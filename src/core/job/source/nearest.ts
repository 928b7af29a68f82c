/** The word that was probably meant: edit distance with swaps of neighbours (Damerau 1964). */

/**
 * Steps from `a` to `b`: a letter put in, left out, changed, or two neighbours swapped.
 * Cost: O(|a| · |b|).
 */
export function editDistance(a: string, b: string): number {
  const width = b.length + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: width }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j < width; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(at(last, j) + 1, at(row, j - 1) + 1, at(last, j - 1) + change);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) best = Math.min(best, at(beforeLast, j - 2) + 1);
      row.push(best);
    }
    beforeLast = last;
    last = row;
  }
  return at(last, width - 1);
}

function at(row: readonly number[], index: number): number {
  return row[index] ?? Number.POSITIVE_INFINITY;
}

/** Case, blanks, `-` and `_` are what people vary without thinking. */
function plain(word: string): string {
  return word.toLowerCase().replace(/[\s_-]/g, "");
}

/**
 * The nearest of `words`, if it is near: at most one step in three letters, or one begins with the
 * other. Ties go to the first.
 */
export function nearest(word: string, words: readonly string[]): string | undefined {
  const meant = plain(word.slice(0, 100));
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of words) {
    const other = plain(candidate);
    const distance = editDistance(meant, other);
    const near = distance <= Math.max(1, Math.floor(Math.max(meant.length, other.length) / 3));
    const begins = meant.length >= 3 && (other.startsWith(meant) || meant.startsWith(other));
    if ((near || begins) && distance < least) {
      best = candidate;
      least = distance;
    }
  }
  return best;
}
