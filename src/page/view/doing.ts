/** What the user asks for that is more than a change of a key: files taken in, handed over, an airframe drafted. */
import { useEffect, useRef } from "preact/hooks";
import type { Samples } from "../samples.ts";
import type { Store } from "../state/store.ts";
import { filesOf, read, type TakenIn, takeIn } from "../state/take-in.ts";
import { bytesOf } from "../state/work.ts";
import type { Bytes, Files, JobText } from "../worker/protocol.ts";
import { zipped } from "../worker/zip.ts";
import { handOver, slugOf } from "./top.tsx";

function filesOfTexts(texts: Readonly<Record<string, string>>): Files {
  return new Map(Object.entries(texts).map(([name, text]) => [name, bytesOf(text)]));
}

export function useDoing(store: Store, samples: Samples) {
  const takeAll = async (dropped: ReadonlyMap<string, Bytes>) => {
    if (dropped.size === 0) return;
    const taken: TakenIn = takeIn(store.state().history.now, dropped);
    if (taken.airframe !== undefined) await drafted(taken.airframe, taken.work.files);
    else if (taken.fresh) store.begin(taken.work);
    else store.change(taken.work);
    store.notice(taken.notice);
  };
  const drafted = async (airframe: JobText, beside: Files) => {
    const { files, findings } = await store.draft(airframe, beside);
    const text = files.get("job.yaml");
    if (typeof text !== "string") {
      const said = findings.map((f) => f.message).join(" ");
      store.notice(`No airframe comes of ${airframe.name}. ${said}`);
      return;
    }
    // Drawings and what the job names; sheets and pictures of the airframe are for reading.
    const kept = [...files].filter(([name]) => /\.(dxf|ya?ml)$/.test(name) && name !== "job.yaml");
    store.begin({
      job: { name: "job.yaml", text },
      files: new Map<string, Bytes>(
        kept.map(([name, content]) => [
          name,
          typeof content === "string" ? bytesOf(content) : content,
        ]),
      ),
    });
  };
  const guarded = (work: Promise<void>) => void work.catch(store.fault);
  const save = async (which: "job" | "with drawings" | "all" | "programs") => {
    const { now } = store.state().history;
    if (now.job === undefined) return;
    const slug = slugOf(now, store.state().told.plan?.name);
    if (which === "job") handOver(now.job.name, now.job.text, "text/yaml");
    else if (which === "with drawings") {
      const all = new Map<string, string | Bytes>([[now.job.name, now.job.text], ...now.files]);
      handOver(`${slug}-job.zip`, zipped(all), "application/zip");
    } else {
      const zip = await store.take(which);
      handOver(which === "all" ? `${slug}.zip` : `${slug}-programs.zip`, zip, "application/zip");
    }
  };
  return {
    onFiles: (files: readonly File[]) => guarded(read(files).then(takeAll)),
    onTransfer: (transfer: DataTransfer) => guarded(filesOf(transfer).then(takeAll)),
    onSave: (which: Parameters<typeof save>[0]) => guarded(save(which)),
    onDemo: () => {
      const { "job.yaml": text = "", ...rest } = samples.demo;
      const files = filesOfTexts(rest);
      store.begin({ job: { name: "job.yaml", text }, files });
    },
    onAirframe: (name: string) => {
      const airframe = { name, text: samples.airframes[name] ?? "" };
      guarded(drafted(airframe, filesOfTexts(samples.machines)));
    },
  };
}

/** Dropping anywhere, and undo by keys. */
export function useShell(store: Store, onTransfer: (transfer: DataTransfer) => void): void {
  const latest = useRef(onTransfer);
  latest.current = onTransfer;
  useEffect(() => {
    const over = (event: DragEvent) => event.preventDefault();
    const drop = (event: DragEvent) => {
      event.preventDefault();
      if (event.dataTransfer !== null) latest.current(event.dataTransfer);
    };
    const key = (event: KeyboardEvent) => {
      const mod = event.ctrlKey || event.metaKey;
      if (!mod || event.altKey || !/^[zy]$/i.test(event.key)) return;
      event.preventDefault();
      if (/y/i.test(event.key) || event.shiftKey) store.redo();
      else store.undo();
    };
    addEventListener("dragover", over);
    addEventListener("drop", drop);
    addEventListener("keydown", key);
    return () => {
      removeEventListener("dragover", over);
      removeEventListener("drop", drop);
      removeEventListener("keydown", key);
    };
  }, [store]);
}
