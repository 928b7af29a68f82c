/** A fault of weftcut's own, and a job whose planning was cancelled: what can be done. */
import type { VNode } from "preact";
import type { Store } from "../state/store.ts";

export function Faults({
  store,
  onSave,
}: {
  readonly store: Store;
  readonly onSave: () => void;
}): VNode | null {
  const { fault, cancelled } = store.state();
  if (fault !== undefined) {
    return (
      <div class="fault" role="alert">
        <p>
          <strong>A fault in weftcut itself, not in your files:</strong> {fault.what}
        </p>
        <p class="acts">
          <button type="button" onClick={onSave}>
            Save the job file
          </button>
          <button type="button" onClick={store.undo}>
            Undo the last change
          </button>
          <button type="button" onClick={store.again}>
            Try again
          </button>
        </p>
        <details class="more">
          <summary>Where</summary>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keys. */}
          <pre tabIndex={0}>{fault.where}</pre>
        </details>
      </div>
    );
  }
  if (!cancelled) return null;
  return (
    <p class="old">
      Planning was cancelled.{" "}
      <button type="button" onClick={store.again}>
        Plan it
      </button>
    </p>
  );
}
