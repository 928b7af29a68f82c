/**
 * A second thread for the parts of a plan that need not wait for each other.
 *
 * Promise: the plan is the same with and without it, to the byte; a helper that is slow, gone or failing costs
 * time and nothing else, for what it has not begun is done here, and so is what it fails at.
 */
import { receiveMessageOnPort } from "node:worker_threads";
import { type Errands, HERE, type Runner } from "../../core/job/work/errands.ts";
import { type Answer, BACK, KEPT, MOST_ERRANDS, type Sent, TAKEN, WAITING } from "./post.ts";
import type { Helper } from "./thread.ts";

/** A helper that has not answered by now is taken to have died over the errand, which is done again here. */
const PATIENCE_MS = 60_000;

/**
 * A helper that has nothing to do takes an errand within a moment, and does it with code that is warm by now: worth waiting
 * for before it is done here.
 */
const MOMENT_MS = 10;

/** Without a helper all is done here. */
export function runnerOn(helper: Helper | undefined): Runner {
  if (helper === undefined) return HERE;
  const { port, states } = helper;
  const answers = new Map<number, Answer>();
  let next = 0;

  const waitFor = (number: number): Answer | undefined => {
    const end = performance.now() + PATIENCE_MS;
    for (;;) {
      // Asked before the port is emptied: what was back by then is in it.
      const isBack = Atomics.load(states, number) === BACK;
      collect();
      const known = answers.get(number);
      const left = end - performance.now();
      if (known !== undefined || isBack || left <= 0) return known;
      Atomics.wait(states, number, TAKEN, left);
    }
  };

  const collect = (): void => {
    for (;;) {
      const given = receiveMessageOnPort(port) as { message: Answer } | undefined;
      if (given === undefined) return;
      answers.set(given.message.number, given.message);
    }
  };

  /** It has answered before, and all that it has taken. */
  const isIdle = (): boolean => {
    const all = states.subarray(0, next);
    return all.includes(BACK) && !all.includes(TAKEN);
  };

  return (kind, asks, here) => {
    if (next >= MOST_ERRANDS) return HERE(kind, asks, here);
    const number = next++;
    port.postMessage({ number, kind, asks } as Sent);
    const fetch = (): Errands[typeof kind]["answers"] | ReturnType<typeof here> => {
      if (isIdle()) Atomics.wait(states, number, WAITING, MOMENT_MS);
      if (Atomics.compareExchange(states, number, WAITING, KEPT) === WAITING) return here();
      const answer = waitFor(number);
      return answer === undefined || answer.failed
        ? here()
        : (answer.value as Errands[typeof kind]["answers"]);
    };
    const isOut = (): boolean => [WAITING, TAKEN].includes(Atomics.load(states, number));
    return { fetch, isOut };
  };
}
