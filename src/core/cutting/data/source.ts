/**
 * Where a value comes from, and how far to trust it.
 *
 * printed: seen in the named source. abstract: from a paper's abstract. memory: known, not looked up,
 * with how sure in per cent. derived: arithmetic from other rows. common practice: makers do so, nobody
 * published it. Whatever is not printed or abstract is a default that the user may change, and is shown
 * as an estimate.
 */
export type Tag =
  | "printed"
  | "abstract"
  | "derived"
  | "common practice, no source"
  | "the user's own"
  | `from memory, ${number} % sure`;

export interface Source {
  readonly text: string;
  readonly tag: Tag;
}

/** As it stands in a step, a table and the job sheet. */
export function cite(source: Source): string {
  return `${source.text} (${source.tag})`;
}

export const GEOMETRY: Source = { text: "geometry", tag: "derived" };

export const OWN: Source = { text: "the cutter's own figure in the job", tag: "the user's own" };
