/**
 * The page's end of the worker. The newest job wins: while one is planned, the next waits, and one that waits is
 * dropped for a newer. What takes too long is ended by ending the worker, and so is what is cancelled.
 */
import type { Asked, Files, JobText, Said } from "./protocol.ts";

export interface Client {
  readonly plan: (job: JobText | undefined, files: Files) => number;
  /** Of the last plan. */
  readonly motion: () => number;
  readonly take: (which: "all" | "programs") => number;
  readonly draft: (airframe: JobText, beside: Files) => number;
  /** Ends what is being worked on; the worker starts anew with the next thing asked. */
  readonly cancel: () => void;
}

/** A plan that is already outdated may go on so long, ms: a new worker begins with code that is not compiled. */
const PATIENCE = 4000;

interface Wanted {
  readonly ask: number;
  readonly job: JobText | undefined;
  readonly files: Files;
}

export function workerClient(text: string, hear: (said: Said) => void): Client {
  const url = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  let worker: Worker | undefined;
  let sent: Files | undefined;
  let asks = 0;
  let running: { readonly ask: number; readonly since: number } | undefined;
  let waiting: Wanted | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const post = (asked: Asked) => {
    worker ??= started();
    worker.postMessage(asked);
  };
  const started = (): Worker => {
    const fresh = new Worker(url);
    sent = undefined;
    fresh.onmessage = ({ data }: MessageEvent<Said>) => {
      if (fresh === worker) heard(data);
    };
    fresh.onerror = (event) => {
      event.preventDefault();
      if (fresh !== worker) return;
      const ask = running?.ask ?? 0;
      heard({ kind: "fault", ask, what: event.message, where: event.filename });
      heard({ kind: "done", ask });
    };
    return fresh;
  };
  const ended = () => {
    worker?.terminate();
    worker = undefined;
    running = undefined;
    clearTimeout(timer);
  };
  /** Only what has changed: the worker knows again what it has read already. */
  const send = (files: Files) => {
    if (sent === files) return;
    const before = sent ?? new Map();
    const put = new Map([...files].filter(([name, bytes]) => before.get(name) !== bytes));
    const drop = [...before.keys()].filter((name) => !files.has(name));
    sent = files;
    if (put.size > 0 || drop.length > 0) post({ kind: "files", put, drop });
  };
  const run = (wanted: Wanted) => {
    worker ??= started();
    send(wanted.files);
    running = { ask: wanted.ask, since: performance.now() };
    waiting = undefined;
    post({ kind: "plan", ask: wanted.ask, job: wanted.job });
  };
  const heard = (said: Said) => {
    if (said.kind === "done" && said.ask === running?.ask) {
      running = undefined;
      clearTimeout(timer);
    }
    hear(said);
    if (running === undefined && waiting !== undefined) run(waiting);
  };
  return {
    plan: (job, files) => {
      const wanted = { ask: ++asks, job, files };
      if (running === undefined) {
        run(wanted);
        return wanted.ask;
      }
      waiting = wanted;
      clearTimeout(timer);
      timer = setTimeout(
        () => {
          if (waiting === undefined) return;
          ended();
          run(waiting);
        },
        Math.max(0, PATIENCE - (performance.now() - running.since)),
      );
      return wanted.ask;
    },
    motion: () => {
      post({ kind: "motion", ask: ++asks });
      return asks;
    },
    take: (which) => {
      post({ kind: "take", ask: ++asks, which });
      return asks;
    },
    draft: (airframe, beside) => {
      post({ kind: "draft", ask: ++asks, airframe, beside });
      return asks;
    },
    cancel: () => {
      waiting = undefined;
      ended();
    },
  };
}
