/**
 * One search in a process of its own: the instance and the seed come in, the layout goes out.
 *
 * Its seconds are of processor time, of all threads of the process: what they are on a machine that does nothing
 * else, and the same search where others take their turns.
 */
import process from "node:process";
import { packStrip } from "../../../src/core/layout/search/strip/strip.ts";
import { type Instance, kindsOf, pieceList } from "./instance.ts";

export interface WorkerTask {
  readonly instance: Instance;
  readonly seed: number;
  readonly seconds: number;
}

function processorSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

process.once("message", ({ instance, seed, seconds }: WorkerTask) => {
  const started = processorSeconds();
  const layout = packStrip({
    width: instance.stripWidth,
    kinds: kindsOf(instance),
    pieces: pieceList(instance),
    seed,
    spent: () => (processorSeconds() - started) / seconds,
  });
  process.send?.(layout ?? null, () => process.disconnect());
});
