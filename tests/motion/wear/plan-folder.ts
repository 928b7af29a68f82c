/** Folders as `plan` leaves them, as far as the ledger looks at them: two programs of one cutter. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parseMachine } from "../../../src/core/job/parse.ts";
import { ROOT, tempFolder } from "../../cli/temp-folder.ts";

const MACHINE = readFileSync(join(ROOT, "fixtures/machines/medium-router.yaml"), "utf8");
const machine = parseMachine({ name: "machine", text: MACHINE }).value;

const square = {
  start: [0, 0],
  segments: [{ to: [100, 0] }, { to: [100, 100] }, { to: [0, 100] }, { to: [0, 0] }],
};

function program(file: string, wearMetres: number) {
  return {
    file,
    sheet: "carbon-2",
    cutter: "router-2",
    passDepth: 1,
    seconds: 1200 * wearMetres,
    cutMetres: 4 * wearMetres,
    edgeMetres: wearMetres,
    wearMetres,
    lifeMetres: 4,
  };
}

const plan = {
  weftcut: 1,
  name: "test",
  units: "mm",
  origin: { at: "lower-left", z: "sheet-top" },
  machine,
  cutting: {
    tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
    throughDepth: 0.25,
    finish: { stock: 0.1 },
    direction: "climb",
    rampDeg: 3,
    clearance: 6,
  },
  throughDepth: 0.25,
  sheets: [
    {
      name: "carbon-2",
      material: "carbon-woven",
      thickness: 2,
      outline: square,
      margin: 6,
      keepOut: [],
      originOffset: [0, 0],
      placements: [],
      tabs: [],
    },
  ],
  cutters: [],
  programs: [program("01.nc", 0.5), program("02.nc", 0.25)],
};

/** `out`, or `out-1`, `out-2`, … whose programs differ. */
export function planFolder(plans = 1): string {
  const files: Record<string, string> = {};
  for (let i = 1; i <= plans; i++) {
    const dir = plans === 1 ? "out" : `out-${i}`;
    files[`${dir}/plan.json`] = JSON.stringify(plan);
    files[`${dir}/01.nc`] = `(plan ${i})\nG21\nM2\n`;
    files[`${dir}/02.nc`] = "G21\nG90\nM2\n";
  }
  return tempFolder(files);
}
