/**
 * The one source of randomness in core: mulberry32 (Tommy Ettinger, 2017, public domain), 32 bits of
 * state, equal on every engine because it is integer arithmetic.
 */
export type Random = () => number;

/** Numbers in [0, 1) that depend on nothing but the seed. */
export function seeded(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
