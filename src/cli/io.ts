/** The shell's side of the world: where text goes, and whether it may be coloured. */
import process from "node:process";

export interface Io {
  /** Results, for people or as JSON. */
  readonly out: (text: string) => void;
  /** Progress and problems. */
  readonly err: (text: string) => void;
  readonly colourOut: boolean;
  readonly colourErr: boolean;
  /** Progress is shown only where someone watches. */
  readonly watched: boolean;
}

/** Exit codes: done; a finding stops the job; bad usage or an unreadable file; a fault in weftcut. */
export const EXIT = { done: 0, stopped: 1, usage: 2, fault: 70 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

export function processIo(): Io {
  const { stdout, stderr, env } = process;
  for (const stream of [stdout, stderr]) {
    // Whoever reads us may stop reading (`| head`): then there is nobody to tell, but files are still to be finished.
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
    });
  }
  const plain = env["NO_COLOR"] !== undefined || env["TERM"] === "dumb";
  return {
    out: (text) => {
      if (!stdout.destroyed) stdout.write(text);
    },
    err: (text) => {
      if (!stderr.destroyed) stderr.write(text);
    },
    colourOut: stdout.isTTY === true && !plain,
    colourErr: stderr.isTTY === true && !plain,
    watched: stderr.isTTY === true,
  };
}

/** One JSON document and nothing else. */
export function printJson(io: Io, value: unknown): void {
  io.out(`${JSON.stringify(value, null, 2)}\n`);
}
