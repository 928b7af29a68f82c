/** Files that are dropped or chosen, taken in: a job, its machine, drawings, or an airframe to draft from. */
import { changed, withItem } from "../../core/job/source/change.ts";
import { plateOf, startJob } from "../../core/job/source/start-job.ts";
import { readSource } from "../../core/job/source/yaml-source.ts";
import type { Bytes, JobText } from "../worker/protocol.ts";
import { baseOf } from "./answers.ts";
import type { Work } from "./work.ts";

export interface TakenIn {
  readonly work: Work;
  /** To be drafted first. */
  readonly airframe: JobText | undefined;
  /** Another job than before. */
  readonly fresh: boolean;
  readonly notice: string;
}

type Kind = "drawing" | "job" | "airframe" | "other";

export function takeIn(work: Work, dropped: ReadonlyMap<string, Bytes>): TakenIn {
  const byKind = new Map<Kind, string[]>();
  for (const [name, bytes] of dropped) {
    const kind = kindOf(name, bytes);
    byKind.set(kind, [...(byKind.get(kind) ?? []), name]);
  }
  const of = (kind: Kind) => byKind.get(kind) ?? [];
  const [jobName] = of("job");
  const [airframeName] = of("airframe");
  const text = (name: string) => new TextDecoder().decode(dropped.get(name));
  // Another job begins anew with what came along; drawings alone go to the job that is there.
  const kept = jobName === undefined ? work.files : new Map<string, Bytes>();
  const files = new Map([...kept, ...[...dropped].filter(([name]) => name !== jobName)]);
  const job = jobName === undefined ? work.job : { name: baseOf(jobName), text: text(jobName) };
  const several = of("job").length > 1 ? ` Only ${jobName} of several jobs is taken.` : "";
  const drawings = of("drawing");
  return {
    work: { job: jobName === undefined ? withPlates(job, drawings) : job, files },
    airframe:
      airframeName === undefined ? undefined : { name: airframeName, text: text(airframeName) },
    fresh: jobName !== undefined,
    notice: `${dropped.size === 1 ? [...dropped.keys()][0] : `${dropped.size} files`} taken in.${several}`,
  };
}

function kindOf(name: string, bytes: Bytes): Kind {
  if (/\.(dxf|svg)$/i.test(name)) return "drawing";
  if (!/\.(ya?ml|json)$/i.test(name)) return "other";
  const source: object = Object(readSource(new TextDecoder().decode(bytes)).value);
  if ("airframe" in source) return "airframe";
  const machine = "travel" in source && "spindle" in source && !("plates" in source);
  return machine ? "other" : "job";
}

/** Drawings that no plate is cut from yet get a plate each. */
function withPlates(job: JobText | undefined, drawings: readonly string[]): JobText | undefined {
  if (drawings.length === 0) return job;
  if (job === undefined) {
    const [first = ""] = drawings;
    const name = drawings.length === 1 ? baseOf(first).replace(/\.[^.]*$/, "") : "my plates";
    return { name: "job.yaml", text: startJob(name || "my plates", drawings) };
  }
  const value = Object(readSource(job.text).value);
  const plates: unknown[] = Array.isArray(value.plates) ? value.plates : [];
  const sheets: unknown[] = Array.isArray(value.sheets) ? value.sheets : [];
  const known = new Set(plates.map((p) => baseOf(String(Object(p).drawing))));
  const outlines = sheets.flatMap((s) => [Object(s).outline, Object(s).layout]).map(String);
  const taken = new Set(plates.map((p) => String(Object(p).name)));
  const sheet = String(Object(sheets[0]).name ?? "sheet-2");
  let { text } = job;
  for (const file of drawings) {
    if (known.has(baseOf(file)) || outlines.some((o) => baseOf(o) === baseOf(file))) continue;
    const plate = plateOf(file, sheet, taken);
    taken.add(plate.name);
    text = withItem(text, ["plates"], plate) ?? text;
  }
  return { ...job, text };
}

/** The files that a list of dropped things holds, folders gone through. */
export async function filesOf(transfer: DataTransfer): Promise<Map<string, Bytes>> {
  const entries = [...transfer.items].flatMap((item) => {
    const entry = item.kind === "file" ? item.webkitGetAsEntry() : null;
    return entry === null ? [] : [entry];
  });
  const all = entries.length > 0 ? await Promise.all(entries.map(filesIn)) : [[...transfer.files]];
  return read(all.flat());
}

export async function read(files: readonly File[]): Promise<Map<string, Bytes>> {
  const taken = new Map<string, Bytes>();
  for (const file of files) taken.set(file.name, new Uint8Array(await file.arrayBuffer()));
  return taken;
}

function filesIn(entry: FileSystemEntry): Promise<File[]> {
  return new Promise((resolve) => {
    if (entry.isFile)
      (entry as FileSystemFileEntry).file(
        (f) => resolve([f]),
        () => resolve([]),
      );
    else if (entry.isDirectory) {
      const reader = (entry as FileSystemDirectoryEntry).createReader();
      const found: File[] = [];
      const more = () =>
        reader.readEntries(
          async (entries) => {
            if (entries.length === 0) return resolve(found);
            for (const e of entries) found.push(...(await filesIn(e)));
            more();
          },
          () => resolve(found),
        );
      more();
    } else resolve([]);
  });
}

/** A job's drawing taken out: its plates go with it. */
export function withoutDrawing(work: Work, file: string): Work {
  const files = new Map(work.files);
  files.delete(file);
  if (work.job === undefined) return { ...work, files };
  const plates: unknown = Object(readSource(work.job.text).value).plates;
  let { text } = work.job;
  const list = Array.isArray(plates) ? plates : [];
  for (let i = list.length - 1; i >= 0; i--) {
    if (baseOf(String(Object(list[i]).drawing)) !== baseOf(file) || list.length === 1) continue;
    text = changed(text, ["plates", i], undefined) ?? text;
  }
  return { job: { ...work.job, text }, files };
}
