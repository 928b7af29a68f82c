/**
 * A text that was read before, with comments changed: how long a program takes and how many there are is known once it has
 * been read and timed, and stands in its head. A line that is a comment and nothing else moves nothing, so the rest is not
 * read again.
 */
import { type ReadOptions, readProgram } from "./read.ts";
import type { Trace } from "./trace.ts";

interface ChangedLine {
  /** Counted from 1. */
  readonly line: number;
  readonly now: string;
}

/** The trace of `text`; `before` is of the same file. Where anything but lines of comment differs, it is read anew. */
export function rereadProgram(
  before: { readonly text: string; readonly trace: Trace },
  text: string,
  options: ReadOptions = {},
): Trace {
  const { trace } = before;
  if (before.text === text) return trace;
  const changed = changedComments(before.text, text);
  const same = changed?.every(
    ({ line, now }) => now.length < trace.longestLine && trace.longestAt !== line,
  );
  if (changed === undefined || same !== true) return readProgram(trace.file, text, options);
  const comments = [...trace.comments];
  for (const { line, now } of changed) {
    const [comment] = readProgram(trace.file, now, options).comments;
    const at = comments.findIndex((c) => c.line === line);
    if (comment !== undefined && at >= 0) comments[at] = { ...comment, line };
  }
  return { ...trace, comments };
}

/** The lines that differ; undefined where one of them is not a comment alone, on both sides. */
function changedComments(a: string, b: string): ChangedLine[] | undefined {
  const changed: ChangedLine[] = [];
  let [i, j, line] = [0, 0, 1];
  while (a.slice(i) !== b.slice(j)) {
    const old = lineFrom(a, i);
    const now = lineFrom(b, j);
    if (old !== now) {
      if (!isComment(old) || !isComment(now)) return undefined;
      changed.push({ line, now });
    }
    i += old.length + 1;
    j += now.length + 1;
    line++;
  }
  // One may have an end of line where the other simply ends.
  return a.length - i === b.length - j ? changed : undefined;
}

/** Nothing else on its line, and nothing nested that could end early. */
function isComment(line: string): boolean {
  return /^\([^()]*\)$/.test(line);
}

function lineFrom(text: string, start: number): string {
  const end = text.indexOf("\n", start);
  return text.slice(start, end < 0 ? text.length : end);
}
