/** The programs as they move, by the same player as on the job sheet; read back only when somebody looks. */
import type { VNode } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { PlanJson } from "../../core/job/plan-json.ts";
import { mountPlayer } from "../player/player.ts";
import type { Store } from "../state/store.ts";

export function Motion({ store, plan }: { readonly store: Store; readonly plan: PlanJson }): VNode {
  const [open, setOpen] = useState(false);
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!open) return undefined;
    let gone = false;
    let close: (() => void) | undefined;
    void store
      .motion()
      .then((data) => {
        if (!gone && host.current !== null) close = mountPlayer(host.current, data)?.close;
      })
      .catch(store.fault);
    return () => {
      gone = true;
      close?.();
    };
  }, [open, plan, store]);
  return (
    <details class="result" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>The motion, as the programs say it</summary>
      <p class="facts">
        Each program as it was read back from its own text, at the speeds that the machine reaches.
        It shows what the program says, not where your clamps are.
      </p>
      <div ref={host} />
    </details>
  );
}
