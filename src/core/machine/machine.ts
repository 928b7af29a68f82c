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
  readonly workOffset: "G54" | "none";
  /** False for controllers without G2/G3. */
  readonly arcs: boolean;
  readonly blocksPerSecond: number;
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
}
