/** The whole page: the way, the form, and what is seen of the plan. */
import type { VNode } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Finding } from "../../core/finding/finding.ts";
import { Form } from "../form/form.tsx";
import type { Desk } from "../form/group.tsx";
import { Findings } from "../seen/findings.tsx";
import { lyingOn } from "../seen/lying.ts";
import { inOrder, isOn } from "../seen/marks.ts";
import { Motion } from "../seen/motion.tsx";
import { type Pointed, SheetPicture } from "../seen/picture.tsx";
import { Results } from "../seen/results.tsx";
import { baseOf } from "../state/answers.ts";
import { belongings, jobView } from "../state/job-view.ts";
import type { State, Store } from "../state/store.ts";
import { filesOf, read, type TakenIn, takeIn } from "../state/take-in.ts";
import { bytesOf, isEmpty } from "../state/work.ts";
import type { Bytes, JobText } from "../worker/protocol.ts";
import { zipped } from "../worker/zip.ts";
import { Start } from "./start.tsx";
import { handOver, slugOf, Top } from "./top.tsx";
import { Way } from "./way.tsx";

export interface Samples {
  readonly demo: Readonly<Record<string, string>>;
  readonly airframes: Readonly<Record<string, string>>;
}

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
  const doing = useDoing({ store, samples });
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
      <p class="hidden" role="status">
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
function standingOf({ loaded, busy, stale }: State): "begin" | "working" | "settled" {
  if (!loaded) return "begin";
  return busy === undefined && !stale ? "settled" : "working";
}

/** Anybody may ask for a picture; the pictures' own part listens. */
const SHOW = "weftcut-show";

function show(what: string): void {
  dispatchEvent(new CustomEvent(SHOW, { detail: what }));
}

function Seen({
  desk,
  findings,
}: {
  readonly desk: Desk;
  readonly findings: readonly Finding[];
}): VNode {
  const { store, view } = desk;
  const state = store.state();
  const { told } = state;
  const plan = told.plan ?? told.before;
  const [wanted, setWanted] = useState("");
  const [pointed, setPointed] = useState<Pointed>({});
  useEffect(() => {
    const listen = (event: Event) => setWanted(String((event as CustomEvent).detail));
    addEventListener(SHOW, listen);
    return () => removeEventListener(SHOW, listen);
  }, []);
  const sheets = plan?.sheets ?? [];
  const pictures = [
    ...sheets.map((s) => ({ key: `sheet ${s.name}`, label: s.name })),
    ...told.drawings.map((d) => ({ key: `drawing ${d.file}`, label: d.file })),
  ];
  const shown = pictures.some((p) => p.key === wanted) ? wanted : (pictures[0]?.key ?? "");
  const sheet = sheets.find((s) => `sheet ${s.name}` === shown);
  const drawing = told.drawings.find((d) => `drawing ${d.file}` === shown);
  const all = useMemo(() => (sheet === undefined ? [] : lyingOn(view, sheet)), [view, sheet]);
  const go = (finding: Finding) => {
    const on = sheets.find((s) => isOn(finding, lyingOn(view, s), s));
    const file = finding.drawing?.file;
    const drawn = told.drawings.find((d) => file !== undefined && baseOf(d.file) === baseOf(file));
    if (sheet !== undefined && isOn(finding, all, sheet)) setPointed({ finding });
    else if (on !== undefined) setWanted(`sheet ${on.name}`);
    else if (drawn !== undefined) setWanted(`drawing ${drawn.file}`);
  };
  return (
    <div class="seen">
      <section aria-label="Pictures">
        <fieldset class="choices">
          <legend class="hidden">Which picture</legend>
          {pictures.map(({ key, label }) => (
            <button
              type="button"
              key={key}
              aria-pressed={key === shown}
              onClick={() => setWanted(key)}
            >
              {label}
            </button>
          ))}
        </fieldset>
        {told.plan === undefined && plan !== undefined && (
          <p class="old">
            {state.stale
              ? "Being planned anew."
              : "This plan is the one before: what now stops the job is below."}
          </p>
        )}
        {sheet !== undefined && plan !== undefined && (
          <SheetPicture
            store={store}
            view={view}
            plan={plan}
            sheet={sheet}
            findings={findings}
            pointed={pointed}
            onPoint={setPointed}
          />
        )}
        {drawing !== undefined && (
          <figure class="drawn">
            <div class="picture" dangerouslySetInnerHTML={{ __html: drawing.picture }} />
            <figcaption class="facts">{drawing.file}, as it was read.</figcaption>
          </figure>
        )}
      </section>
      <Findings
        findings={findings}
        all={all}
        sheet={sheet}
        pointed={pointed}
        onPoint={setPointed}
        onGo={go}
      />
      {told.plan !== undefined && !told.proving && !state.stale && !told.stopped && (
        <Motion store={store} plan={told.plan} />
      )}
      {told.plan !== undefined && <Results plan={told.plan} proving={told.proving} />}
    </div>
  );
}

/** A fault of weftcut's own, and a job whose planning was cancelled: what can be done. */
function Faults({
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

/** What the user asks for that is more than a change of a key. */
function useDoing({ store, samples }: PageProps) {
  const takeAll = async (dropped: ReadonlyMap<string, Bytes>) => {
    if (dropped.size === 0) return;
    const taken: TakenIn = takeIn(store.state().history.now, dropped);
    if (taken.airframe !== undefined) await drafted(taken.airframe);
    else if (taken.fresh) store.begin(taken.work);
    else store.change(taken.work);
    store.notice(taken.notice);
  };
  const drafted = async (airframe: JobText) => {
    const { files, findings } = await store.draft(airframe.name, airframe.text);
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
      const files = new Map(Object.entries(rest).map(([name, t]) => [name, bytesOf(t)]));
      store.begin({ job: { name: "job.yaml", text }, files });
    },
    onAirframe: (name: string) => guarded(drafted({ name, text: samples.airframes[name] ?? "" })),
  };
}

/** Dropping anywhere, and undo by keys. */
function useShell(store: Store, onTransfer: (transfer: DataTransfer) => void): void {
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
