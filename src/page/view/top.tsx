/** The head of the page: what the job is called, and what is done with the whole of it. */
import type { VNode } from "preact";
import { fileSlug } from "../../core/job/job.ts";
import { Typing } from "../form/field.tsx";
import { type Desk, setValue } from "../form/group.tsx";
import { valueHere } from "../state/job-view.ts";
import type { Store } from "../state/store.ts";
import { NOTHING, type Work } from "../state/work.ts";
import { Choose } from "./start.tsx";

export interface TopProps {
  readonly store: Store;
  readonly desk: Desk | undefined;
  readonly onFiles: (files: readonly File[]) => void;
  readonly onSave: (which: "job" | "with drawings" | "all" | "programs") => void;
}

export function Top({ store, desk, onFiles, onSave }: TopProps): VNode {
  const { history, told, busy, stale } = store.state();
  const work: Work = history.now;
  const some = work.job !== undefined;
  const ready = told.plan !== undefined && !told.stopped && !told.proving && !stale;
  const spot = desk && { file: desk.view.file, path: ["name"] };
  return (
    <header class="top">
      <p class="mark">weftcut</p>
      {desk?.view.readable === true && spot && (
        <label class="job-name" for="job-name">
          <span>Job</span>
          <Typing
            id="job-name"
            text={String(valueHere(desk.view, spot) ?? "")}
            onText={(text) => setValue(desk, spot, text || undefined)}
          />
        </label>
      )}
      <fieldset class="tools">
        <legend class="hidden">The whole job</legend>
        <button type="button" disabled={history.past.length === 0} onClick={store.undo}>
          Undo
        </button>
        <button type="button" disabled={history.future.length === 0} onClick={store.redo}>
          Redo
        </button>
        {some && <Choose label="Add files" onFiles={onFiles} />}
        {some && (
          <button type="button" onClick={() => store.change(NOTHING)}>
            Begin anew
          </button>
        )}
        {some && (
          <button type="button" onClick={() => onSave("job")}>
            Save the job file
          </button>
        )}
        {some && (
          <button type="button" onClick={() => onSave("with drawings")}>
            Save job and drawings
          </button>
        )}
        {some && (
          <button type="button" disabled={!ready} onClick={() => onSave("programs")}>
            Take the programs
          </button>
        )}
        {some && (
          <button type="button" class="main" disabled={!ready} onClick={() => onSave("all")}>
            Take everything
          </button>
        )}
      </fieldset>
      {busy !== undefined && (
        <p class="busy">
          <span class="spin" aria-hidden="true" /> {busy}{" "}
          <button type="button" onClick={store.cancel}>
            Cancel
          </button>
        </p>
      )}
    </header>
  );
}

/** Hands the user a file, named so that every system takes it. */
export function handOver(
  name: string,
  content: string | Uint8Array<ArrayBuffer>,
  type: string,
): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser has begun to read it by then.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

export function slugOf(work: Work, name: unknown): string {
  return fileSlug(
    typeof name === "string" ? name : (work.job?.name.replace(/\.\w+$/, "") ?? "job"),
  );
}
