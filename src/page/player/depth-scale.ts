/**
 * One scale for depth: clay at the sheet's top, through heather, to slate at the deepest.
 *
 * Seventeen colours at even steps of OKLab along a path on which lightness, red, green and blue only fall. Even steps make
 * equal depths look equally far apart; falling lightness carries them for people who see few colours and in
 * grey; falling channels let a canvas keep the deeper of two cuts by itself, with its `darken` blending.
 */
export const DEPTHS: readonly string[] = (
  "eed3aa e8c39e e2b392 daa389 ce9584 c08884 b27d84 a27284 926783 " +
  "805e81 6e557f 5c4c7a 4b4372 3c3a66 2e3158 212949 13213c"
)
  .split(" ")
  .map((hex) => `#${hex}`);

/** Steps of depth that are told apart in the picture: finer than the eye, so that ramps look smooth. */
export const LEVELS = 64;

/** Level 1 to `LEVELS`: the first is just below the top, the last the deepest. */
export function colourOf(level: number): string {
  const at = (Math.min(Math.max(level, 1), LEVELS) - 1) / (LEVELS - 1);
  const place = at * (DEPTHS.length - 1);
  const below = Math.min(Math.floor(place), DEPTHS.length - 2);
  const [a, b] = [channels(below), channels(below + 1)];
  const mixed = a.map((value, i) => Math.round(value + ((b[i] ?? 0) - value) * (place - below)));
  return `rgb(${mixed.join()})`;
}

function channels(index: number): number[] {
  const hex = DEPTHS[index] ?? "";
  return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
}
