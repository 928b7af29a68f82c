/**
 * Best published utilisations, %, that the figures are set beside: guided cuckoo search, Elkeran, EJOR 231(3),
 * 2013, ten runs of twenty minutes. Recalled, not read again: to be confirmed before they are printed elsewhere.
 */
export const PUBLISHED: Readonly<Record<string, number>> = {
  albano: 89.58,
  blaz: 84.84,
  dagli: 89.51,
  fu: 92.41,
  jakobs1: 89.1,
  jakobs2: 87.73,
  mao: 85.44,
  marques: 90.59,
  shapes0: 68.79,
  shapes1: 76.73,
  shirts: 88.96,
  swim: 75.94,
  trousers: 91.0,
  // Cut from a full rectangle.
  dighe1: 100,
  dighe2: 100,
};

/** The twelve over which the mean is taken. */
export const AIMED_AT: readonly string[] = [
  "albano",
  "dagli",
  "fu",
  "jakobs1",
  "jakobs2",
  "mao",
  "marques",
  "shapes0",
  "shapes1",
  "shirts",
  "swim",
  "trousers",
];
