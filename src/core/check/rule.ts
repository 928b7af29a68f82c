/**
 * A rule: one question that is asked of every job before it is cut.
 *
 * Words: a rule *asks* something of plates as drawn, or of the layout once there is one. What it finds it reports
 * under its own code, with the number `found`, the number `wanted` and the place. Its limits say where they
 * are from; docs/CHECKS.md is written from all this.
 */
import type { Finding } from "../finding/finding.ts";
import type { CheckCode } from "../finding/say-check.ts";
import type { JobView } from "./view.ts";

export interface Limit {
  readonly what: string;
  readonly value: string;
  /** Author, year, section; or that it is common practice, or from memory. */
  readonly source: string;
}

export interface Rule {
  readonly code: CheckCode;
  readonly asks: string;
  /** What goes wrong in the workshop or in the air. */
  readonly reason: string;
  readonly limits: readonly Limit[];
  /** `plates`: before anything is laid out. `layout`: once every plate has its place. */
  readonly when: "plates" | "layout";
  readonly run: (view: JobView) => readonly Finding[];
}

export const COMMON_PRACTICE = "common practice, no source";

/** Limits are met by what is drawn exactly at them: a little more than double noise on plates of a metre, mm. */
export const AT_LIMIT = 1e-6;
