/** What is seen of the work: sheets as they will be cut, drawings as they were read, what was found, what comes of it. */
import type { VNode } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import type { Finding } from "../../core/finding/finding.ts";
import type { Desk } from "../form/group.tsx";
import { revealDrawing, revealField } from "../form/reveal.ts";
import { baseOf } from "../state/answers.ts";
import { Findings } from "./findings.tsx";
import { lyingOn } from "./lying.ts";
import { isOn } from "./marks.ts";
import { Motion } from "./motion.tsx";
import { type Pointed, SheetPicture } from "./picture.tsx";
import { Results } from "./results.tsx";

/** Anybody may ask for a picture; the pictures' own part listens. */
const SHOW = "weftcut-show";

export function show(what: string): void {
  dispatchEvent(new CustomEvent(SHOW, { detail: what }));
}

export function Seen({
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
    if (typeof finding.data["path"] === "string" && revealField(desk.said, finding)) return;
    if (sheet !== undefined && isOn(finding, all, sheet)) setPointed({ finding });
    else if (on !== undefined) setWanted(`sheet ${on.name}`);
    else if (drawn === undefined) revealField(desk.said, finding);
    else {
      setWanted(`drawing ${drawn.file}`);
      revealDrawing(drawn.file);
    }
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
