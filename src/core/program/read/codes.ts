/**
 * The G and M codes that the reader knows, with their modal groups (NISTIR 6556, Tables 4 and 7).
 *
 * Codes are kept times ten, so that G91.1 is 911. Codes that the standard has and this reader does not
 * execute (probing, other planes, compensation, saved places, the rarer cycles) are told apart from
 * codes that nobody knows: the first ask for another post, the second are typing errors.
 */

/** Numbers of the groups; NON_MODAL is the standard's group 0. */
export const NON_MODAL = 0;
export const MOTION = 1;
export const PLANE = 2;
export const DISTANCE = 3;
export const ARC_DISTANCE = 4;
export const FEED_MODE = 5;
export const UNITS = 6;
export const COMPENSATION = 7;
export const LENGTH = 8;
export const RETURN = 10;
export const SYSTEM = 12;
export const PATH = 13;
export const G_GROUPS = 14;

export const STOPPING = 0;
export const TOOL = 1;
export const SPINDLE = 2;
export const COOLANT = 3;
export const OVERRIDE = 4;
export const M_GROUPS = 5;

const UNKNOWN = -1;
const UNSUPPORTED = 64;

const G_TABLE: Int8Array = table(1000, [
  [NON_MODAL, [40, 530, 920, 921, 922, 923], [100, 280, 300]],
  [MOTION, [0, 10, 20, 30, 800, 810, 820, 830], [382, 840, 850, 860, 870, 880, 890]],
  [PLANE, [170], [180, 190]],
  [DISTANCE, [900, 910], []],
  [ARC_DISTANCE, [911], [901]],
  [FEED_MODE, [930, 940], []],
  [UNITS, [200, 210], []],
  [COMPENSATION, [400], [410, 420]],
  [LENGTH, [490], [430]],
  [RETURN, [980, 990], []],
  [SYSTEM, [540, 550, 560, 570, 580, 590, 591, 592, 593], []],
  [PATH, [610, 611, 640], []],
]);

const M_TABLE: Int8Array = table(100, [
  [STOPPING, [0, 1, 2, 30], [60]],
  [TOOL, [6], []],
  [SPINDLE, [3, 4, 5], []],
  [COOLANT, [7, 8, 9], []],
  [OVERRIDE, [], [48, 49]],
]);

type Row = readonly [group: number, known: readonly number[], unsupported: readonly number[]];

function table(size: number, rows: readonly Row[]): Int8Array {
  const groups = new Int8Array(size).fill(UNKNOWN);
  for (const [group, known, unsupported] of rows) {
    for (const code of known) groups[code] = group;
    for (const code of unsupported) groups[code] = UNSUPPORTED + group;
  }
  return groups;
}

/** Numbers this near an integer are that integer (NISTIR 6556, sec. 3.3.2.1). */
const WHOLE = 0.0001;

/** The nearest integer where the number is one, else −1 (negative numbers are no codes). */
export function whole(value: number): number {
  const near = Math.round(value);
  return near >= 0 && Math.abs(value - near) <= WHOLE ? near : -1;
}

export type CodeState = "known" | "unsupported" | "unknown";

export interface CodeEntry {
  readonly state: CodeState;
  readonly group: number;
}

const entries = (groups: Int8Array): readonly CodeEntry[] =>
  Array.from(groups, (group) => {
    if (group === UNKNOWN) return { state: "unknown", group };
    return group >= UNSUPPORTED
      ? { state: "unsupported", group: group - UNSUPPORTED }
      : { state: "known", group };
  });

const G_ENTRIES: readonly CodeEntry[] = entries(G_TABLE);
const M_ENTRIES: readonly CodeEntry[] = entries(M_TABLE);
const NOBODY: CodeEntry = { state: "unknown", group: UNKNOWN };

/** `code` is the G number times ten. */
export const gEntry = (code: number): CodeEntry => G_ENTRIES[code] ?? NOBODY;
export const mEntry = (code: number): CodeEntry => M_ENTRIES[code] ?? NOBODY;

export function gName(code: number): string {
  return code % 10 === 0 ? `G${code / 10}` : `G${(code / 10).toFixed(1)}`;
}
