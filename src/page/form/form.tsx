/** The job as one form, in the order in which a plate is made: drawing, plate, sheet, cutter, cut, machine. */
import type { ComponentChildren, VNode } from "preact";
import type { Inspected } from "../worker/protocol.ts";
import { Drawings } from "./drawings.tsx";
import { type Desk, Group } from "./group.tsx";
import { JobTextPart } from "./job-text.tsx";
import { KeepOuts } from "./keep-outs.tsx";
import { namesAt, Things, ToSet } from "./things.tsx";

export interface FormProps {
  readonly desk: Desk;
  readonly drawings: readonly Inspected[];
  readonly onShow: (file: string) => void;
}

export function Form({ desk, drawings, onShow }: FormProps): VNode {
  if (!desk.view.readable) return <JobTextPart desk={desk} open />;
  return (
    <>
      <Part id="drawings" title="Drawings">
        <Drawings desk={desk} drawings={drawings} onShow={onShow} />
      </Part>
      <Part id="plates" title="Plates">
        <Plates desk={desk} />
      </Part>
      <Part id="sheets" title="Sheets">
        <ToSet desk={desk} list="sheets" />
        <Sheets desk={desk} />
      </Part>
      <Part id="cutters" title="Cutters">
        <ToSet desk={desk} list="cutters" />
        <Cutters desk={desk} />
      </Part>
      <Part id="cutting" title="How it is cut">
        <Cutting desk={desk} />
      </Part>
      <Part id="machine" title="Machine">
        <ToSet desk={desk} list="machine" />
        <Machine desk={desk} />
      </Part>
      <JobTextPart desk={desk} />
    </>
  );
}

function Part({
  id,
  title,
  children,
}: {
  readonly id: string;
  readonly title: string;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <section aria-labelledby={id} class="part">
      <h2 id={id}>{title}</h2>
      {children}
    </section>
  );
}

const number = (value: unknown): string => (typeof value === "number" ? String(value) : "?");

function Plates({ desk }: { readonly desk: Desk }): VNode {
  const sheets = namesAt(desk, "sheets");
  return (
    <Things
      desk={desk}
      list="plates"
      one="Plate"
      facts={({ value }) =>
        `${number(value["count"] ?? 1)} × from ${value["sheet"]}${value["fibreDeg"] === undefined ? "" : `, fibre ${value["fibreDeg"]}°`}`
      }
    >
      {(plate) => (
        <Group
          desk={desk}
          of={["plates"]}
          base={plate.base}
          keys={["name", "sheet", "count", "fibreDeg", "gap"]}
          more={["drawing", "units", "closeGaps", "dropNearDuplicates", "mayCross", "mayFlip"]}
          options={{ sheet: sheets, units: ["", "mm", "in"] }}
        />
      )}
    </Things>
  );
}

function Sheets({ desk }: { readonly desk: Desk }): VNode {
  const fresh = () => {
    const taken = new Set(namesAt(desk, "sheets"));
    let n = taken.size + 1;
    while (taken.has(`sheet-${n}`)) n++;
    return { name: `sheet-${n}`, material: "carbon-woven", thickness: 2, size: [300, 200] };
  };
  return (
    <Things
      desk={desk}
      list="sheets"
      one="Sheet"
      add={{ label: "Add a sheet", item: fresh }}
      facts={({ value }) =>
        `${value["material"]}, ${number(value["measuredThickness"] ?? value["thickness"])} mm`
      }
    >
      {(sheet) => (
        <>
          <Group
            desk={desk}
            of={["sheets"]}
            base={sheet.base}
            keys={[
              "name",
              "material",
              "thickness",
              "measuredThickness",
              sheet.value["outline"] === undefined ? "size" : "outline",
              "count",
              "fibreDeg",
              "margin",
              "price",
            ]}
            more={["layout", "density", "specificEnergy"]}
          />
          <KeepOuts desk={desk} sheet={sheet.base} />
        </>
      )}
    </Things>
  );
}

function Cutters({ desk }: { readonly desk: Desk }): VNode {
  const fresh = () => {
    const taken = new Set(namesAt(desk, "cutters"));
    let n = taken.size + 1;
    while (taken.has(`cutter-${n}`)) n++;
    const kind = "diamond-router";
    return { name: `cutter-${n}`, kind, diameter: 1.5, fluteLength: 6, overhang: 12 };
  };
  return (
    <Things
      desk={desk}
      list="cutters"
      one="Cutter"
      add={{ label: "Add a cutter", item: fresh }}
      facts={({ value }) =>
        `${value["kind"]}, ${number(value["measuredDiameter"] ?? value["diameter"])} mm`
      }
    >
      {(cutter) => (
        <Group
          desk={desk}
          of={["cutters"]}
          base={cutter.base}
          keys={[
            "name",
            "kind",
            "diameter",
            "measuredDiameter",
            "fluteLength",
            "overhang",
            "flutes",
            "coating",
            "lifeMetres",
            "price",
          ]}
          more={[
            "shankDiameter",
            "feedPerRev",
            "surfaceSpeed",
            "edgeRadius",
            "diameterLoss",
            "fitOffset",
          ]}
        />
      )}
    </Things>
  );
}

const CUTTING_KEYS = [
  "passDepth",
  "throughDepth",
  "rampDeg",
  "clearance",
  "hop",
  "direction",
  "order",
  "finish.stock",
];

function Cutting({ desk }: { readonly desk: Desk }): VNode {
  const base = { file: desk.view.file, path: [] };
  return (
    <>
      <Group
        desk={desk}
        of={["cutting"]}
        base={{ ...base, path: ["cutting"] }}
        keys={CUTTING_KEYS}
        labels={{ "finish.stock": "Left for the last pass" }}
      />
      <h3>Holding tabs</h3>
      <Group
        desk={desk}
        of={["cutting", "tabs"]}
        base={{ ...base, path: ["cutting", "tabs"] }}
        keys={["width", "height", "spacing", "least"]}
      />
      <h3>Program zero</h3>
      <Group
        desk={desk}
        of={["origin"]}
        base={{ ...base, path: ["origin"] }}
        keys={["at", "z"]}
        labels={{ at: "X0 Y0 is", z: "Z0 is" }}
      />
      <h3>Prices</h3>
      <Group
        desk={desk}
        of={["rates"]}
        base={{ ...base, path: ["rates"] }}
        keys={["perHour", "currency", "setupMinutes", "offcutValue"]}
      />
    </>
  );
}

function Machine({ desk }: { readonly desk: Desk }): VNode {
  const { machine } = desk.view;
  if (machine === undefined) {
    return <p>The machine's file is not here yet: drop it onto the page.</p>;
  }
  return (
    <>
      {machine.path.length === 0 && <p class="facts">In {machine.file}.</p>}
      <Group
        desk={desk}
        of={["machine"]}
        base={machine}
        keys={["name", "travel", "maxFeed", "acceleration"]}
      />
      <h3>Spindle</h3>
      <Group
        desk={desk}
        of={["machine", "spindle"]}
        base={{ ...machine, path: [...machine.path, "spindle"] }}
        keys={["min", "max", "powerW", "spinUpS"]}
        more={["start", "handS", "sAtMax"]}
      />
      <details class="more">
        <summary>How its controller reads programs</summary>
        <Group
          desk={desk}
          of={["machine"]}
          base={machine}
          keys={[
            "decimals",
            "lineLength",
            "dwell",
            "comments",
            "workOffset",
            "arcs",
            "repeatMotion",
            "blocksPerSecond",
            "junctionDeviation",
            "axisScale",
            "programEnd",
            "percentLines",
            "startLines",
            "endLines",
          ]}
        />
      </details>
    </>
  );
}
