/** What is the user's: a job's text and the files beside it. All else on the page follows from it. */
import type { Bytes, Files, JobText } from "../worker/protocol.ts";

export interface Work {
  readonly job: JobText | undefined;
  readonly files: Files;
}

export const NOTHING: Work = { job: undefined, files: new Map() };

export function isEmpty(work: Work): boolean {
  return work.job === undefined && work.files.size === 0;
}

/** Earlier and later states of the work. */
export interface History {
  readonly past: readonly Work[];
  readonly now: Work;
  readonly future: readonly Work[];
  /** What the last change was of: changes of one thing in one go are undone in one. */
  readonly of: string | undefined;
  readonly at: number;
}

/** States that are kept; files are shared among them. */
const MOST = 200;
/** Changes of one thing within so many ms are one. */
const ONE_GO = 1200;

export function begun(now: Work): History {
  return { past: [], now, future: [], of: undefined, at: 0 };
}

export function changedTo(h: History, now: Work, of: string | undefined, at: number): History {
  const joins = of !== undefined && of === h.of && at - h.at < ONE_GO && h.past.length > 0;
  const past = joins ? h.past : [...h.past, h.now].slice(-MOST);
  return { past, now, future: [], of, at };
}

export function undone(h: History): History {
  const now = h.past.at(-1);
  if (now === undefined) return h;
  return { past: h.past.slice(0, -1), now, future: [h.now, ...h.future], of: undefined, at: 0 };
}

export function redone(h: History): History {
  const [now, ...future] = h.future;
  if (now === undefined) return h;
  return { past: [...h.past, h.now], now, future, of: undefined, at: 0 };
}

export function bytesOf(text: string): Bytes {
  return new TextEncoder().encode(text);
}

export function textIn(files: Files, name: string): string | undefined {
  const bytes = files.get(name) ?? files.get(name.split(/[\\/]/).at(-1) ?? name);
  return bytes === undefined ? undefined : new TextDecoder().decode(bytes);
}
