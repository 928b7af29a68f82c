/** The helper thread: does errands as they come. */
import { workerData } from "node:worker_threads";
import { doErrand } from "../../core/job/work/do-errand.ts";
import { type Answer, BACK, type HelperData, type Sent, TAKEN, WAITING } from "./post.ts";

const { port, states } = workerData as HelperData;

port.on("message", ({ number, kind, asks }: Sent) => {
  if (Atomics.compareExchange(states, number, WAITING, TAKEN) !== WAITING) return;
  Atomics.notify(states, number);
  port.postMessage(answer(number, () => doErrand(kind, asks as never)));
  Atomics.store(states, number, BACK);
  Atomics.notify(states, number);
});

function answer(number: number, work: () => unknown): Answer {
  try {
    return { number, value: work(), failed: false };
  } catch {
    return { number, failed: true };
  }
}
