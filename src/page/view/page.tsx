/** The whole page: the way, the form, and what is seen of the plan. */
import type { VNode } from "preact";
import { useEffect, useMemo } from "preact/hooks";
import { Form } from "../form/form.tsx";
import type { Desk } from "../form/group.tsx";
import type { Samples } from "../samples.ts";
import { inOrder } from "../seen/marks.ts";
import { Seen, show } from "../seen/seen.tsx";
import { belongings, jobView } from "../state/job-view.ts";
import type { State, Store } from "../state/store.ts";
import { isEmpty } from "../state/work.ts";
import { useDoing, useShell } from "./doing.ts";
import { Faults } from "./faults.tsx";
import { Start } from "./start.tsx";
import { Top } from "./top.tsx";
import { Way } from "./way.tsx";

export interface PageProps {
  readonly store: Store;
  readonly samples: Samples;
}

export function Page({ store, samples }: PageProps): VNode {
  const state = store.state();
  const work = state.history.now;
  const view = jobView(work);
  const told = state.told;
  const findings = useMemo(() => inOrder(told.findings), [told.findings]);
  const said = useMemo(
    () => (view === undefined ? new Map() : belongings(view, told.findings)),
    [view, told.findings],
  );
  const desk: Desk | undefined = view && { store, view, said };
  const doing = useDoing(store, samples);
  useShell(store, doing.onTransfer);
  const empty = isEmpty(work);
  const { loaded } = state;
  // A link to the demo; work that was kept comes first.
  useEffect(() => {
    if (loaded && location.hash === "#demo" && isEmpty(store.state().history.now)) doing.onDemo();
  }, [loaded]);
  return (
    <div
      class={empty ? "page empty" : "page"}
      data-state={standingOf(state)}
      data-past={state.history.past.length}
    >
      <Top store={store} desk={desk} onFiles={doing.onFiles} onSave={doing.onSave} />
      <p class="notice" role="status">
        {state.notice}
      </p>
      <Faults store={store} onSave={() => doing.onSave("job")} />
      {empty && state.loaded && (
        <main>
          <Start
            samples={samples}
            onFiles={doing.onFiles}
            onDemo={doing.onDemo}
            onAirframe={doing.onAirframe}
          />
        </main>
      )}
      {desk !== undefined && (
        <>
          <Way state={state} findings={findings} />
          <main class="desk">
            <Seen desk={desk} findings={findings} />
            <form class="form" aria-label="The job" onSubmit={(e) => e.preventDefault()}>
              <Form
                desk={desk}
                drawings={told.drawings}
                onShow={(file) => show(`drawing ${file}`)}
              />
            </form>
          </main>
        </>
      )}
      <footer>
        Lengths in mm, feeds in mm/min. Nobody has seen your sheet, clamps and machine but you: run
        above the sheet first, then in cheap board, then in the plate's material. Local rules and
        the machine's manual come first.
      </footer>
    </div>
  );
}

/** For whoever drives the page from outside. */
function standingOf(state: State): "begin" | "working" | "settled" {
  if (!state.loaded) return "begin";
  const ended = !state.stale || state.cancelled || state.fault !== undefined;
  return state.busy === undefined && ended ? "settled" : "working";
}
