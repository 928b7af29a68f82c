/**
 * A router as data: what it can reach, how fast it goes, and what its controller accepts.
 * mm, mm/min, mm/s², rpm, W, s. Fields as in the job file (CONTRACT of `weftcut plan`).
 */
export interface Machine {
  readonly name: string;
  /** X, Y, Z, mm. */
  readonly travel: readonly [number, number, number];
  /** X, Y, Z, mm/min. */
  readonly maxFeed: readonly [number, number, number];
  /** X, Y, Z, mm/s². */
  readonly acceleration: readonly [number, number, number];
  /** mm; see facts on the junction rule (S. Jeon, 2011). */
  readonly junctionDeviation: number;
  readonly spindle: Spindle;
  /** Decimals of X Y Z I J in mm. */
  readonly decimals: number;
  /** Longest line the controller takes, characters. */
  readonly lineLength: number;
  /** What P of G4 counts. */
  readonly dwell: "seconds" | "milliseconds";
  readonly comments: "parentheses" | "semicolon" | "none";
  /** True for controllers that forget G0/G1/G2 from line to line. */
  readonly repeatMotion: boolean;
  readonly workOffset: "G54" | "G55" | "G56" | "G57" | "G58" | "G59" | "none";
  /** False for controllers without G2/G3. */
  readonly arcs: boolean;
  readonly blocksPerSecond: number;
  /** The word that ends programs; absent: M2. `none`: they end with their last line. */
  readonly programEnd?: "M2" | "M30" | "none" | undefined;
  /** True where programs stand between two lines of `%`. */
  readonly percentLines?: boolean | undefined;
  /** The user's own lines: before all that weftcut writes, and between M5 and the end. */
  readonly startLines?: readonly string[] | undefined;
  readonly endLines?: readonly string[] | undefined;
  /** What X and Y really move for each mm asked, where a coupon has measured it. */
  readonly axisScale?: readonly [number, number] | undefined;
  /** What coupons have found, oldest first. */
  readonly coupons?:
    | readonly {
        readonly date: string;
        readonly axisScale: readonly [number, number];
        readonly plusMinus: readonly [number, number];
        readonly before?: readonly [number, number] | undefined;
      }[]
    | undefined;
}

export interface Spindle {
  readonly min: number;
  readonly max: number;
  readonly powerW: number;
  readonly spinUpS: number;
  /** S at `max` and in proportion below it, where S does not count rpm. */
  readonly sAtMax?: number | undefined;
  /** Who starts it: the program (absent, too), or a hand, while the program waits at M0 or in a dwell. */
  readonly start?: "program" | "hand-at-stop" | "hand-in-dwell" | undefined;
  /** How long that dwell is, before the spindle comes up to speed, s. */
  readonly handS?: number | undefined;
}

/** Long enough to walk up to the spindle, switch it on and step back; common practice, no source. */
export const HAND_S: number = 30;

/** rpm that one S stands for. */
export function rpmPerS({ max, sAtMax }: Spindle): number {
  return sAtMax === undefined ? 1 : max / sAtMax;
}
