/**
 * A text that was read before, with one comment changed: a program's minutes are known once it has been read and
 * timed, and stand in its head. A line that is a comment and nothing else moves nothing, so the rest is not read again.
 */
import { type ReadOptions, readProgram } from "./read.ts";
import type { Trace } from "./trace.ts";

/** The trace of `text`; `before` is of the same file. Where more than one line of comment differs, it is read anew. */
export function rereadProgram(
  before: { readonly text: string; readonly trace: Trace },
  text: string,
  options: ReadOptions = {},
): Trace {
  const { trace } = before;
  if (before.text === text) return trace;
  const start = startOfChange(before.text, text);
  const old = lineFrom(before.text, start);
  const now = lineFrom(text, start);
  const line = countLines(text, start) + 1;
  const same =
    isComment(old) &&
    isComment(now) &&
    now.length < trace.longestLine &&
    trace.longestAt !== line &&
    before.text.slice(start + old.length) === text.slice(start + now.length);
  if (!same) return readProgram(trace.file, text, options);
  const [comment] = readProgram(trace.file, now, options).comments;
  return {
    ...trace,
    comments: trace.comments.map((c) => (c.line === line && comment ? { ...comment, line } : c)),
  };
}

/** Nothing else on its line, and nothing nested that could end early. */
function isComment(line: string): boolean {
  return /^\([^()]*\)$/.test(line);
}

/** Where the first line that differs begins. */
function startOfChange(a: string, b: string): number {
  let i = 0;
  while (i < a.length && a.charCodeAt(i) === b.charCodeAt(i)) i++;
  return a.lastIndexOf("\n", i - 1) + 1;
}

function lineFrom(text: string, start: number): string {
  const end = text.indexOf("\n", start);
  return text.slice(start, end < 0 ? text.length : end);
}

function countLines(text: string, end: number): number {
  let lines = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < end; at = text.indexOf("\n", at + 1)) lines++;
  return lines;
}
