/**
 * A job in which every name that a person can give is an attack: markup, quotes, ends of scripts. Layers and blocks of its DXF are
 * named so, its SVG brings a script and handlers, and both still have a plate to cut.
 */
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

/** What would give itself away if it ran: it sets a mark that a browser's test looks for. */
export const MARK = "weftcutWasHere";
const RUNS = `window.${MARK}=1`;

export const NAMES = {
  job: `</title><script>${RUNS}</script>`,
  sheet: `"><img src=x onerror=${RUNS}>`,
  plate: `</script><script>${RUNS}</script><!--`,
  svgPlate: `' onload='${RUNS}' x='`,
  cutter: `<svg onload=${RUNS}>`,
  machine: `</style><b onclick="${RUNS}">&lt;`,
  layer: `<iframe srcdoc=${RUNS}></iframe>`,
  block: `<a href=javascript:${RUNS}>]]>`,
} as const;

const DXF = [
  ["0", "SECTION"],
  ["2", "HEADER"],
  ["9", "$INSUNITS"],
  ["70", "4"],
  ["0", "ENDSEC"],
  ["0", "SECTION"],
  ["2", "ENTITIES"],
  ["0", "LWPOLYLINE"],
  ["8", NAMES.layer],
  ["90", "5"],
  ["70", "1"],
  ...[
    [0, 0],
    [40, 0],
    [40, 30],
    [5, 30],
    [0, 25],
  ].flatMap(([x, y]) => [
    ["10", String(x)],
    ["20", String(y)],
  ]),
  ["0", "CIRCLE"],
  ["8", NAMES.layer],
  ["10", "20"],
  ["20", "15"],
  ["40", "3"],
  ["0", "TEXT"],
  ["8", NAMES.layer],
  ["10", "5"],
  ["20", "5"],
  ["40", "3"],
  ["1", NAMES.plate],
  ["0", "INSERT"],
  ["8", NAMES.layer],
  ["2", NAMES.block],
  ["10", "0"],
  ["20", "0"],
  ["0", "LINE"],
  ["8", NAMES.layer],
  ["10", "60"],
  ["20", "5"],
  ["11", "66"],
  ["21", "9"],
  ["0", "ENDSEC"],
  ["0", "EOF"],
]
  .map((pair) => pair.join("\n"))
  .join("\n");

const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30" onload="${RUNS}">
<script>${RUNS}</script><title>&lt;script&gt;${RUNS}&lt;/script&gt;</title>
<rect x="0" y="0" width="40" height="30" onclick="${RUNS}" fill="none" stroke="#000"/>
<circle cx="20" cy="15" r="3" fill="none" stroke="#000"/>
<text x="1" y="1">${NAMES.plate.replace(/</g, "&lt;")}</text>
<foreignObject><body xmlns="http://www.w3.org/1999/xhtml"><img src="x" onerror="${RUNS}"/></body></foreignObject>
</svg>`;

const JOB = {
  weftcut: 1,
  name: NAMES.job,
  machine: {
    name: NAMES.machine,
    travel: [300, 200, 60],
    maxFeed: [3000, 3000, 1000],
    acceleration: [200, 200, 100],
    spindle: { min: 8000, max: 24000, powerW: 400, spinUpS: 6 },
  },
  sheets: [
    {
      name: NAMES.sheet,
      material: "carbon-woven",
      thickness: 2,
      size: [120, 60],
      margin: 6,
      keepOut: [{ at: [5, 55], diameter: 6 }],
    },
  ],
  plates: [
    { name: NAMES.plate, drawing: "plate.dxf", sheet: NAMES.sheet },
    { name: NAMES.svgPlate, drawing: "plate.svg", sheet: NAMES.sheet },
  ],
  cutters: [
    { name: NAMES.cutter, kind: "diamond-router", diameter: 2, fluteLength: 8, overhang: 14 },
  ],
};

/** Planned in memory, its files and findings as they would be written. */
export function hostilePlan(): Planned {
  const files: Readonly<Record<string, string>> = { "plate.dxf": DXF, "plate.svg": SVG };
  const read = (name: string): Uint8Array | undefined => {
    const text = files[name];
    return text === undefined ? undefined : new TextEncoder().encode(text);
  };
  const { value, findings } = parseJob({ name: "job.json", text: JSON.stringify(JOB) }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read, { keepUnproven: true });
}
