/** Clamps and screws of a sheet: discs and boxes that nothing may touch. */
import type { VNode } from "preact";
import { withItem } from "../../core/job/source/change.ts";
import { findingsOf, listAt, type Spot, withValue } from "../state/job-view.ts";
import { Field } from "./field.tsx";
import { type Desk, setValue } from "./group.tsx";
import { nodeFor } from "./schema.ts";

export function KeepOuts({ desk, sheet }: { readonly desk: Desk; readonly sheet: Spot }): VNode {
  const { store, view } = desk;
  const path = [...sheet.path, "keepOut"];
  const items = listAt(view, path);
  const add = (item: unknown) => {
    const { job } = view.work;
    const text = job && withItem(job.text, path, item);
    if (job && text) store.change({ ...view.work, job: { ...job, text } });
  };
  return (
    <fieldset class="keepouts">
      <legend>Keep-outs: {items.length}</legend>
      {items.map((item, i) => (
        <OneKeepOut
          key={i}
          desk={desk}
          item={item}
          spot={{ ...sheet, path: [...path, i] }}
          number={i + 1}
        />
      ))}
      <p class="acts">
        <button type="button" onClick={() => add({ at: [10, 10], diameter: 14 })}>
          Add a screw
        </button>
        <button type="button" onClick={() => add({ from: [0, 0], to: [20, 20] })}>
          Add a clamp
        </button>
      </p>
    </fieldset>
  );
}

interface OneProps {
  readonly desk: Desk;
  readonly item: unknown;
  readonly spot: Spot;
  readonly number: number;
}

const PAIR = nodeFor("plates", "points");
const POINT = { ...PAIR, prefixItems: [{ unit: "mm" }, { unit: "mm" }], description: "" };

function OneKeepOut({ desk, item, spot, number }: OneProps): VNode {
  const keys =
    "at" in Object(item) || "diameter" in Object(item) ? ["at", "diameter"] : ["from", "to"];
  const remove = () => {
    const work = withValue(desk.view.work, spot, undefined);
    if (work !== undefined) desk.store.change(work);
  };
  return (
    <div class="row">
      {keys.map((key) => {
        const own = { ...spot, path: [...spot.path, key] };
        return (
          <Field
            key={key}
            name={key}
            label={LABEL[key] ?? key}
            node={key === "diameter" ? { unit: "mm", description: "" } : POINT}
            value={Object(item)[key]}
            findings={findingsOf(desk.said, own)}
            onValue={(value) => setValue(desk, own, value)}
          />
        );
      })}
      <button type="button" onClick={remove}>
        Take out <span class="hidden">keep-out {number}</span>
      </button>
    </div>
  );
}

const LABEL: Readonly<Record<string, string>> = {
  at: "Screw at X, Y",
  diameter: "Diameter",
  from: "Clamp from X, Y",
  to: "to X, Y",
};
