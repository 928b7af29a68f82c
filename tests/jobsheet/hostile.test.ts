/** A job whose every name is an attack, from its drawings to its papers: names stay text. */
import { expect, test } from "vitest";
import { hostilePlan, MARK, NAMES } from "./hostile-job.ts";
import { all, parseHtml, textOf } from "./parse-html.ts";

const planned = hostilePlan();
const sheet = parseHtml(planned.files.get("job-sheet.html") ?? "");

/** What weftcut never writes, wherever a name may have put it. */
const FOREIGN = new Set("img iframe b i object embed link base form".split(" "));

test("it is planned like any other", () => {
  expect(planned.stopped).toBe(false);
  expect(planned.plan?.proof.proven).toBe(true);
  expect(planned.plan?.sheets[0]?.placements.map((p) => p.plate)).toEqual([
    NAMES.plate,
    NAMES.svgPlate,
  ]);
});

test("its job sheet shows every name as text, and none of them is markup", () => {
  const shown = textOf(sheet);
  const { job, sheet: sheetName, plate, svgPlate, cutter, machine } = NAMES;
  for (const name of [job, sheetName, plate, svgPlate, cutter, machine]) {
    expect(shown).toContain(name);
  }
  for (const element of all(sheet)) {
    expect(FOREIGN).not.toContain(element.tag);
    for (const [name, value] of element.attributes) {
      expect(name).not.toMatch(/^on|^src|^style$/i);
      if (name === "href") expect(value).toMatch(/^#[a-z]+$/);
    }
  }
  const scripts = all(sheet, "script");
  expect(scripts).toHaveLength(2);
  expect(scripts.filter((s) => s.attributes.get("type") === undefined).map(textOf)).not.toContain(
    expect.stringContaining(MARK),
  );
});

test("its pictures hold no script, handler or foreign element", () => {
  const pictures = [...planned.files].filter(([name]) => name.endsWith(".svg"));
  expect(pictures.length).toBeGreaterThan(0);
  for (const [, text] of pictures) {
    for (const element of all(parseHtml(text))) {
      expect(element.tag).toMatch(/^(svg|title|desc|defs|pattern|path|rect|circle|g|text|tspan)$/);
      for (const name of element.attributes.keys()) expect(name).not.toMatch(/^on|href|^src/i);
    }
  }
});
