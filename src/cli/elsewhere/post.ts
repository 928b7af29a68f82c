/**
 * What a plan's thread and its helper say to each other.
 *
 * An errand lies in the order of sending; its state is one number that both threads see. Who turns it from
 * `WAITING` to `TAKEN`, the helper, or to `KEPT`, the plan's thread, does the errand: so none is done twice and none is
 * waited for that nobody has begun. The helper makes it `BACK` once its answer lies in the port.
 */
import type { MessagePort } from "node:worker_threads";
import type { ErrandKind, Errands } from "../../core/job/work/errands.ts";

export const WAITING = 0;
export const TAKEN = 1;
export const KEPT = 2;
export const BACK = 3;

/** Errands of one plan: four for each sheet; beyond, they are done here. */
export const MOST_ERRANDS = 4096;

export interface HelperData {
  readonly port: MessagePort;
  /** State of each errand, by its number. */
  readonly states: Int32Array;
}

export type Sent = {
  [K in ErrandKind]: {
    readonly number: number;
    readonly kind: K;
    readonly asks: Errands[K]["asks"];
  };
}[ErrandKind];

/** Absent value: the helper failed, and the errand is done again where its failure can be told. */
export interface Answer {
  readonly number: number;
  readonly value?: unknown;
  readonly failed: boolean;
}
