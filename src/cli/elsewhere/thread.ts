/**
 * The helper thread and the way to it. Started before anything else is loaded, since it takes as long to come up as a
 * drawing to be read.
 */
import { availableParallelism } from "node:os";
import { MessageChannel, type MessagePort, Worker } from "node:worker_threads";
import { type HelperData, MOST_ERRANDS } from "./post.ts";

export interface Helper {
  readonly port: MessagePort;
  /** As in `HelperData`. */
  readonly states: Int32Array;
  readonly end: () => void;
}

/** Beside this module once both are compiled; there is none from source. */
const COMPILED = import.meta.url.endsWith(".js")
  ? new URL("helper.js", import.meta.url)
  : undefined;

/** None where there is no `module`, or one processor would have to do the work of both. */
export function startHelper(module: URL | undefined = COMPILED): Helper | undefined {
  if (module === undefined || availableParallelism() < 2) return undefined;
  const { port1, port2 } = new MessageChannel();
  const states = new Int32Array(new SharedArrayBuffer(MOST_ERRANDS * Int32Array.BYTES_PER_ELEMENT));
  const data: HelperData = { port: port2, states };
  const worker = new Worker(module, { workerData: data, transferList: [port2] });
  // Should the thread not come up, its errands are simply never taken.
  worker.on("error", () => undefined);
  worker.unref();
  port1.unref();
  const end = (): void => {
    void worker.terminate();
    port1.close();
  };
  return { port: port1, states, end };
}

/** With a helper for as long as `work` goes on. */
export async function withHelper<T>(work: (helper: Helper | undefined) => Promise<T>): Promise<T> {
  const helper = startHelper();
  try {
    return await work(helper);
  } finally {
    helper?.end();
  }
}
