/** The whole page. */
import { layoutSvg } from "../../core/layout/picture.ts";
import type { Store } from "../state/store.ts";
import { bytesOf } from "../state/work.ts";

export interface Samples {
  readonly demo: Readonly<Record<string, string>>;
  readonly airframes: Readonly<Record<string, string>>;
}

export function Page({ store, samples }: { readonly store: Store; readonly samples: Samples }) {
  const { told, busy } = store.state();
  const demo = () => {
    const { "job.yaml": text = "", ...rest } = samples.demo;
    const files = new Map(Object.entries(rest).map(([name, t]) => [name, bytesOf(t)]));
    store.change({ job: { name: "job.yaml", text }, files });
  };
  return (
    <main>
      <button type="button" onClick={demo}>
        The demo
      </button>
      <p role="status">{busy ?? "ready"}</p>
      {told.plan?.sheets.map((sheet, i) => (
        <div
          key={sheet.name}
          class="picture"
          dangerouslySetInnerHTML={{ __html: layoutSvg(sheet, told.plan?.origin, { idPrefix: `s${i}` }) }}
        />
      ))}
      <p>{told.findings.length} findings</p>
    </main>
  );
}
