/** One search in a process of its own: the instance and the seed come in, the layout goes out. */
import process from "node:process";
import { packStrip } from "../../../src/core/layout/search/strip/strip.ts";
import { type Instance, kindsOf, pieceList } from "./instance.ts";

export interface WorkerTask {
  readonly instance: Instance;
  readonly seed: number;
  readonly seconds: number;
}

process.once("message", ({ instance, seed, seconds }: WorkerTask) => {
  const started = performance.now();
  const layout = packStrip({
    width: instance.stripWidth,
    kinds: kindsOf(instance),
    pieces: pieceList(instance),
    seed,
    spent: () => (performance.now() - started) / 1000 / seconds,
  });
  process.send?.(layout ?? null, () => process.disconnect());
});
