/** What is dropped is taken for what it is, and what a drawing leaves open is answered with keys of the job. */

import { unzipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { parseJob } from "../../src/core/job/parse.ts";
import { questionsOf } from "../../src/page/state/answers.ts";
import { belongings, findingsOf, valueHere, withValue } from "../../src/page/state/job-view.ts";
import { takeIn, withoutDrawing } from "../../src/page/state/take-in.ts";
import {
  begun,
  bytesOf,
  changedTo,
  NOTHING,
  redone,
  undone,
  type Work,
} from "../../src/page/state/work.ts";
import { inspectAll } from "../../src/page/worker/inspect.ts";
import { zipped } from "../../src/page/worker/zip.ts";
import { demoWork, readIn, textOfDemo, viewOf } from "./demo-work.ts";

const dropped = (files: Readonly<Record<string, string>>) =>
  new Map(Object.entries(files).map(([name, text]) => [name, bytesOf(text)]));

/** A square of 40 mm, open by `gap` at its last corner, on a layer that may be off. */
function square(gap: number, layer = "CUT", off = false): string {
  const ends = [
    [0, 0, 40, 0],
    [40, 0, 40, 40],
    [40, 40, 0, 40],
    [0, 40, 0, gap],
  ];
  const lines = ends.map(
    ([x0, y0, x1, y1]) => `0\nLINE\n8\n${layer}\n10\n${x0}\n20\n${y0}\n11\n${x1}\n21\n${y1}\n`,
  );
  const head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n";
  const table = `0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\n${layer}\n70\n0\n62\n${off ? -7 : 7}\n0\nENDTAB\n0\nENDSEC\n`;
  return `${head}${table}0\nSECTION\n2\nENTITIES\n${lines.join("")}0\nENDSEC\n0\nEOF\n`;
}

/** Takes the first answer to every question of a dropped drawing, and gives its plates' keys. */
function answered(
  file: string,
  text: string,
): { asked: string[]; plate: Record<string, unknown>; work: Work } {
  let { work } = takeIn(NOTHING, dropped({ [file]: text }));
  const asked: string[] = [];
  for (let i = 0; i < 4; i++) {
    const [seen] = inspectAll(work.job, work.files);
    const question = seen && questionsOf(viewOf(work), seen)[0];
    if (question === undefined) break;
    asked.push(question.findings[0]?.code ?? "");
    work = question.answers[0]?.work ?? work;
  }
  const { plates } = parse(work.job?.text ?? "");
  return { asked, plate: plates[0], work };
}

describe("questions", () => {
  const unitless = textOfDemo("arm.dxf").replace("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n0");

  test.each([
    ["units", "arm.dxf", unitless, "unit-unknown", { units: "mm" }],
    ["a gap", "gap.dxf", square(0.06), "gap", { closeGaps: 0.06 }],
    ["an open outline", "open.dxf", square(0.7), "open-outline", { closeGaps: 0.7 }],
    [
      "a layer that is off",
      "off.dxf",
      square(0, "HIDDEN", true),
      "layer-hidden",
      { layers: { cut: ["HIDDEN"] } },
    ],
  ])("%s", (_, file, text, code, keys) => {
    const { asked, plate, work } = answered(file, text);
    expect(asked).toEqual([code]);
    expect(plate).toMatchObject(keys);
    const [seen] = inspectAll(work.job, work.files);
    expect(seen?.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(seen?.plates).toHaveLength(1);
    // The job's own reader takes the answer too.
    const { findings } = parseJob(work.job ?? { name: "", text: "" }, readIn(work));
    expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
  });

  test("an outline drawn twice, nearly", () => {
    const twice = square(0).replace(
      "0\nENDSEC\n0\nEOF\n",
      `${/0\nLINE[\s\S]*(?=0\nENDSEC\n0\nEOF)/.exec(square(0))?.[0].replace(/^(10|11|20|21)\n(\d+)$/gm, (_, code, v) => `${code}\n${Number(v) + (Number(v) > 20 ? 0.05 : -0.05)}`)}0\nENDSEC\n0\nEOF\n`,
    );
    const { asked, plate } = answered("twice.dxf", twice);
    expect(asked).toEqual(["near-duplicate"]);
    expect(plate).toMatchObject({ dropNearDuplicates: true });
  });
});

describe("what is dropped", () => {
  test("a job with its files replaces what was there; a machine and a drawing go to the job", () => {
    const work = demoWork();
    const job = { "other.yaml": textOfDemo("job.yaml"), "arm.dxf": textOfDemo("arm.dxf") };
    const replaced = takeIn(work, dropped(job));
    expect([replaced.fresh, replaced.work.job?.name, replaced.work.files.size]).toEqual([
      true,
      "other.yaml",
      1,
    ]);
    const more = takeIn(work, dropped({ "small-router.yaml": textOfDemo("small-router.yaml") }));
    expect([more.fresh, more.work.job?.text]).toEqual([false, work.job?.text]);
    const drawn = takeIn(work, dropped({ "new.dxf": textOfDemo("arm.dxf") }));
    expect(parse(drawn.work.job?.text ?? "").plates.at(-1)).toEqual({
      name: "new",
      drawing: "new.dxf",
      sheet: "carbon-4",
    });
    expect(withoutDrawing(drawn.work, "new.dxf")).toEqual(work);
  });

  test("an airframe is to be drafted", () => {
    const { airframe } = takeIn(
      NOTHING,
      dropped({ "a.yaml": "weftcut: 1\nairframe: { name: x }\n" }),
    );
    expect(airframe?.name).toBe("a.yaml");
  });
});

test("findings go to the fields that they are about, in whichever file these stand", () => {
  const work = demoWork();
  const view = viewOf(work);
  const { machine } = view;
  if (machine === undefined) throw new Error("the demo's machine is missing");
  const spots = [
    { file: "job.yaml", path: ["cutters", 0, "fluteLength"] },
    { file: "job.yaml", path: ["sheets", 1, "size"] },
    { file: machine.file, path: ["spindle", "max"] },
  ];
  for (const spot of spots) {
    const bad = withValue(work, spot, spot.path.includes("size") ? [1, -2] : "x") as Work;
    const after = viewOf(bad);
    const { findings } = parseJob(bad.job ?? { name: "", text: "" }, readIn(bad));
    expect(findings.length).toBeGreaterThan(0);
    expect(findingsOf(belongings(after, findings), spot)).toEqual(findings);
    expect(valueHere(after, spot)).toBeDefined();
  }
});

test("history: what is changed in one go is one step, and nothing is lost on the way back and forth", () => {
  const at = (text: string): Work => ({ job: { name: "j", text }, files: new Map() });
  let h = begun(at("0"));
  h = changedTo(h, at("1"), "a", 0);
  h = changedTo(h, at("2"), "a", 500);
  h = changedTo(h, at("3"), "a", 5000);
  h = changedTo(h, at("4"), "b", 5100);
  const texts = [];
  for (let i = 0; i < 5; i++) {
    texts.push(h.now.job?.text);
    h = undone(h);
  }
  expect(texts).toEqual(["4", "3", "2", "0", "0"]);
  for (let i = 0; i < 5; i++) h = redone(h);
  expect(h.now.job?.text).toBe("4");
});

test("a zip is the same bytes for the same files, and holds them", () => {
  const files = new Map([
    ["a.nc", "G0 X0\n"],
    ["b é.txt", "µ"],
  ]);
  const zip = zipped(files);
  expect(zipped(files)).toEqual(zip);
  const members = Object.entries(unzipSync(zip)).map(([n, b]) => [n, new TextDecoder().decode(b)]);
  expect(new Map(members as [string, string][])).toEqual(files);
});
