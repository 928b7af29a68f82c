/**
 * The worker: all of the core's work, away from what is shown. It holds the files and the last plan; the page
 * holds everything that is the user's.
 */
import { draftAirframe } from "../../core/airframe/draft.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import { playerData, runsOf } from "../../core/jobsheet/motion/player-data.ts";
import { inspectAll } from "./inspect.ts";
import { drawingsIn, planned } from "./plan.ts";
import type { Asked, Bytes, Files, Said } from "./protocol.ts";
import { zipped } from "./zip.ts";

interface Port {
  onmessage: ((event: { readonly data: Asked }) => void) | null;
  readonly postMessage: (said: Said, moved?: readonly ArrayBuffer[]) => void;
}

const port = globalThis as unknown as Port;

/** ms */
const PROGRESS_EVERY = 120;

const files = new Map<string, Bytes>();
let made: ReadonlyMap<string, string> = new Map();
let plan: PlanJson | undefined;

port.onmessage = ({ data }) => {
  const ask = data.kind === "files" ? 0 : data.ask;
  try {
    answer(data);
  } catch (error) {
    const { message, stack = "" } = error instanceof Error ? error : new Error(String(error));
    port.postMessage({ kind: "fault", ask, what: message, where: stack });
  }
  if (data.kind === "plan") port.postMessage({ kind: "done", ask });
};

function answer(asked: Asked): void {
  if (asked.kind === "files") {
    for (const name of asked.drop) files.delete(name);
    for (const [name, bytes] of asked.put) files.set(name, bytes);
    return;
  }
  const { ask } = asked;
  if (asked.kind === "take") {
    const zip = zipped(wanted(asked.which));
    port.postMessage({ kind: "taken", ask, zip }, [zip.buffer]);
    return;
  }
  if (asked.kind === "motion") {
    if (plan === undefined) throw new Error("there is no plan to play");
    port.postMessage({ kind: "motion", ask, motion: playerData(plan, runsOf(plan, made)) });
    return;
  }
  if (asked.kind === "draft") {
    const drafted = draftAirframe(asked.airframe, (path) => fileIn(asked.beside, path));
    const out = drafted.files as ReadonlyMap<string, string | Bytes>;
    port.postMessage({ kind: "draft", ask, files: out, findings: drafted.findings });
    return;
  }
  port.postMessage({
    kind: "inspected",
    ask,
    drawings: inspectAll(asked.job, files, drawingsIn(read)),
  });
  if (asked.job === undefined) return;
  const { files: out, ...rest } = planned(asked.job, read, {
    progress: nowAndThen((stage) => port.postMessage({ kind: "progress", ask, stage })),
    laid: (laid) => port.postMessage({ kind: "laid", ask, laid }),
    drafted: (draft, findings) => port.postMessage({ kind: "drafted", ask, plan: draft, findings }),
  });
  made = out;
  plan = rest.plan;
  port.postMessage({ kind: "planned", ask, ...rest });
}

/** A search tells of every step; the page wants to draw other things too. */
function nowAndThen(tell: (stage: string) => void): (stage: string) => void {
  let last = Number.NEGATIVE_INFINITY;
  return (stage) => {
    const now = performance.now();
    if (now - last < PROGRESS_EVERY) return;
    last = now;
    tell(stage);
  };
}

function wanted(which: "all" | "programs"): ReadonlyMap<string, string> {
  return which === "all" ? made : programsOf(made);
}

function programsOf(out: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  return new Map([...out].filter(([name]) => name.endsWith(".nc")));
}

/** By the job's name for it; a browser tells a dropped file's folder only when the folder was dropped. */
function read(path: string): Bytes | undefined {
  return fileIn(files, path);
}

function fileIn(all: Files, path: string): Bytes | undefined {
  return all.get(path) ?? all.get(path.split(/[\\/]/).at(-1) ?? path);
}
