/** Times as JSON for other programs, and as a table for people. */
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

/** 1:02:03, 2:03, 3.4 s. */
export function clock(seconds: number): string {
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  const whole = Math.round(seconds);
  const two = (n: number): string => String(n).padStart(2, "0");
  const minutes = Math.floor(whole / 60);
  if (minutes < 60) return `${minutes}:${two(whole % 60)} min`;
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)} h`;
}

export function timeText(file: string, time: TraceTime): string {
  const by = time.byMotion;
  const rows: readonly (readonly [string, number])[] = [
    ["level cutting", by.level],
    ["ramps and helices", by.ramp],
    ["plunges", by.plunge],
    ["rapids", by.rapid],
    ["dwells", by.dwell],
  ];
  return [
    `${file}: ${clock(time.seconds)}, ${time.blocks} blocks, ${time.cutMetres.toFixed(2)} m at feed, ${time.rapidMetres.toFixed(2)} m at rapid`,
    ...rows.map(([name, seconds]) => `  ${name.padEnd(18)} ${clock(seconds).padStart(10)}`),
    ...time.assumptions.map((a) => `  ${a}`),
    "",
  ].join("\n");
}
