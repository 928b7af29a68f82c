/** The drawings of fixtures/cases with what is right for each. */
import { readFileSync } from "node:fs";

export interface Expected {
  readonly closed_loops: number;
  readonly outers: number;
  readonly holes: number;
  readonly open_chains: number;
  readonly area_mm2: number | null;
  readonly bbox_mm: readonly [number, number, number, number] | null;
  readonly circle_diams_mm?: Readonly<Record<string, number>>;
  readonly fitted_diams_mm?: Readonly<Record<string, number>>;
  readonly even_odd_area_mm2?: number;
  readonly error?: string;
}

export interface Case {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly expect: Expected;
  readonly as_inch?: { readonly bbox_mm: readonly number[]; readonly area_mm2: number };
  readonly with_hidden?: Expected;
  readonly at_tolerance?: Readonly<Record<string, number>>;
  readonly offset?: readonly {
    readonly delta: number;
    readonly join: "round" | "mitre";
    readonly loops: number;
    readonly area_mm2: number;
    readonly bbox_mm?: readonly number[];
  }[];
}

const FOLDER = new URL("../../../fixtures/cases/", import.meta.url);

const ledger = JSON.parse(readFileSync(new URL("EXPECTED.json", FOLDER), "utf8")) as Readonly<
  Record<string, Omit<Case, "file" | "bytes">>
>;

export const CASES: readonly Case[] = Object.entries(ledger).map(([file, rest]) => ({
  ...rest,
  file,
  // A copy: slices of Node's own buffers share their memory, and a test that changes one changes the case.
  bytes: Uint8Array.from(readFileSync(new URL(file, FOLDER))),
}));

export function caseOf(start: string): Case {
  const found = CASES.find((c) => c.file.startsWith(start));
  if (found === undefined) throw new Error(`no case ${start}`);
  return found;
}
