/**
 * A rule's case: a job just outside its limit and one just inside, and what the finding must say. A rule with several
 * levels has a case for each.
 */

import type { CheckInput } from "../../../src/core/check/view.ts";
import type { Severity } from "../../../src/core/finding/finding.ts";
import type { CheckCode } from "../../../src/core/finding/say-check.ts";

export interface Case {
  readonly code: CheckCode;
  readonly what: string;
  readonly severity: Severity;
  readonly outside: CheckInput;
  readonly inside: CheckInput;
  readonly found: number;
  readonly wanted: number;
  /** How exactly `found` is known, mm; absent: 1e-6. */
  readonly within?: number;
  /** Of the finding, where it has a point. */
  readonly at?: readonly [number, number];
  /** A lesser level may still speak inside the limit. */
  readonly insideSays?: Severity;
}

/** Just beyond a limit, mm. */
export const HAIR = 0.001;
