/** Times as JSON for other programs. */
import type { TraceTime } from "./time.ts";

export interface TimeJson {
  readonly file: string;
  readonly seconds: number;
  readonly cuttingSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  readonly cutMetres: number;
  readonly rapidMetres: number;
  readonly blocks: number;
  readonly byMotion: TraceTime["byMotion"];
  readonly assumptions: readonly string[];
}

export function timeJson(file: string, time: TraceTime): TimeJson {
  return {
    file,
    seconds: time.seconds,
    cuttingSeconds: time.cuttingSeconds,
    rapidSeconds: time.rapidSeconds,
    dwellSeconds: time.dwellSeconds,
    cutMetres: time.cutMetres,
    rapidMetres: time.rapidMetres,
    blocks: time.blocks,
    byMotion: time.byMotion,
    assumptions: time.assumptions,
  };
}
