/**
 * Findings: what weftcut has to say, as data. Every stage returns its value and its findings; nothing
 * is dropped silently and nothing throws on bad input.
 *
 * Sentences live in src/core/finding/say-*.ts alone, one catalogue a room; a room reports a code and
 * numbers, and the catalogue turns them into a message and a way out.
 */
import type { Origin } from "../geometry/shape.ts";

/** stop: no program is written; warn: look before you cut; note: good to know. */
export type Severity = "stop" | "warn" | "note";

export interface Place {
  readonly plate?: string | undefined;
  readonly sheet?: string | undefined;
  /** In the plate's drawing frame, mm, or the sheet frame where no plate is named. */
  readonly at?: readonly [number, number] | undefined;
  readonly drawing?: Origin | undefined;
  readonly program?: { readonly file: string; readonly line: number } | undefined;
}

export interface Finding extends Place {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly hint?: string | undefined;
  readonly data: Readonly<Record<string, number | string>>;
}

type Data = Readonly<Record<string, number | string>>;

/** One kind of finding: its usual severity and its sentences. `never` lets entries name their data. */
export interface Entry<D extends Data> {
  readonly severity: Severity;
  readonly message: (data: D) => string;
  readonly hint?: (data: D) => string;
}

// biome-ignore lint/suspicious/noExplicitAny: a catalogue holds entries of different data.
export type Catalogue = Readonly<Record<string, Entry<any>>>;

type DataOf<E> = E extends Entry<infer D> ? D : never;

export type Report<C extends Catalogue> = <K extends keyof C & string>(
  code: K,
  data: DataOf<C[K]>,
  place?: Place,
) => Finding;

/** A catalogue's own way to make findings: `const report = reporter(sayDrawing)`. */
export function reporter<C extends Catalogue>(catalogue: C): Report<C> {
  return (code, data, place = {}) => {
    const entry = catalogue[code] as Entry<Data>;
    return {
      code,
      severity: entry.severity,
      message: entry.message(data),
      ...(entry.hint === undefined ? {} : { hint: entry.hint(data) }),
      ...place,
      data,
    };
  };
}

export interface Outcome<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
}

export function stops(findings: readonly Finding[]): boolean {
  return findings.some((f) => f.severity === "stop");
}

/** A length as people read it: at most three decimals, no trailing zeros. */
export function mm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
