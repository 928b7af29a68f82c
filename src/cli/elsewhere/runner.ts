/**
 * A second thread for the parts of a plan that need not wait for each other.
 *
 * Promise: the plan is the same with and without it, to the byte; a helper that is slow, gone or failing costs
 * time and nothing else, for what it has not begun is done here, and so is what it fails at.
 */
import { availableParallelism } from "node:os";
import { MessageChannel, receiveMessageOnPort, Worker } from "node:worker_threads";
import { HERE, type Runner, runErrand } from "../../core/job/work/errands.ts";
import { type Answer, type HelperData, MOST_ERRANDS, type Sent, TAKEN, WAITING } from "./post.ts";

export interface Elsewhere {
  readonly run: Runner;
  readonly end: () => void;
}

/** All is done here. */
export const NOWHERE: Elsewhere = { run: HERE, end: () => undefined };

/** A helper that has not answered by now is taken to have died over the errand, which is done again here. */
const PATIENCE_MS = 60_000;

/**
 * A helper that has answered before takes its next errand within a moment, and does it with code that is warm by now:
 * worth waiting for before it is done here.
 */
const MOMENT_MS = 10;

/** `helper` is the compiled module of helper.ts; from source there is none, and all is done here. */
export function helperThread(helper: URL): Elsewhere {
  if (!helper.pathname.endsWith(".js") || availableParallelism() < 2) return NOWHERE;
  const { port1, port2 } = new MessageChannel();
  const states = new Int32Array(
    new SharedArrayBuffer((MOST_ERRANDS + 1) * Int32Array.BYTES_PER_ELEMENT),
  );
  const data: HelperData = { port: port2, states };
  const worker = new Worker(helper, { workerData: data, transferList: [port2] });
  // Should the thread not come up, its errands are simply never taken.
  worker.on("error", () => undefined);
  worker.unref();
  port1.unref();
  const answers = new Map<number, Answer>();
  let next = 0;

  const waitFor = (number: number): Answer | undefined => {
    const end = performance.now() + PATIENCE_MS;
    for (;;) {
      const given = Atomics.load(states, MOST_ERRANDS);
      for (;;) {
        const message = receiveMessageOnPort(port1) as { message: Answer } | undefined;
        if (message === undefined) break;
        answers.set(message.message.number, message.message);
      }
      const known = answers.get(number);
      const left = end - performance.now();
      if (known !== undefined || left <= 0) return known;
      Atomics.wait(states, MOST_ERRANDS, given, left);
    }
  };

  const run: Runner = (kind, asks) => {
    if (next >= MOST_ERRANDS) return HERE(kind, asks);
    const number = next++;
    port1.postMessage({ number, kind, asks } as Sent);
    return () => {
      if (Atomics.load(states, MOST_ERRANDS) > 0) Atomics.wait(states, number, WAITING, MOMENT_MS);
      const mine = Atomics.compareExchange(states, number, WAITING, TAKEN) === WAITING;
      const answer = mine ? undefined : waitFor(number);
      if (answer === undefined || answer.failed) return runErrand(kind, asks);
      return answer.value as ReturnType<typeof runErrand<typeof kind>>;
    };
  };
  return {
    run,
    end: () => {
      void worker.terminate();
      port1.close();
    },
  };
}
