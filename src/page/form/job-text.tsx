/** The job file itself. The form writes into it, and whatever the form has no field for is written here. */
import type { VNode } from "preact";
import { useId } from "preact/hooks";
import { Said } from "./field.tsx";
import type { Desk } from "./group.tsx";

export function JobTextPart({
  desk,
  open = false,
}: {
  readonly desk: Desk;
  readonly open?: boolean;
}): VNode {
  const { store, view } = desk;
  const id = useId();
  const { job } = view.work;
  const problems = view.readable ? [] : store.state().told.findings;
  return (
    <section class="part" aria-labelledby="job-text">
      <h2 id="job-text">Job file</h2>
      <details class="more" open={open}>
        <summary>{view.file} as text</summary>
        <label for={id}>All that the job says; mates, fasteners, checks and comments too.</label>
        <textarea
          id={id}
          rows={24}
          data-job=""
          spellcheck={false}
          value={job?.text ?? ""}
          onInput={(e) => {
            if (job === undefined) return;
            const text = e.currentTarget.value;
            store.change({ ...view.work, job: { ...job, text } }, "text");
          }}
        />
      </details>
      <Said findings={problems} />
    </section>
  );
}
