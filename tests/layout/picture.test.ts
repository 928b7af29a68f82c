/** The picture read back by an arc formula of its own (SVG 1.1, appendix F.6.5), and the order of tabs. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawn } from "../../fixtures/demo/make.ts";
import { signedArea } from "../../src/core/geometry/contour.ts";
import { escapeText, num, pathOf } from "../../src/core/layout/drawn/svg.ts";
import { breakingOrder } from "../../src/core/layout/drawn/tab-order.ts";
import { layoutSvg, numberedTabs } from "../../src/core/layout/picture.ts";
import { all, parseHtml, textOf } from "../jobsheet/parse-html.ts";
import { samplePlan } from "../jobsheet/sample-plan.ts";
import { contourOf } from "./support.ts";

type Pair = readonly [number, number];

/** Signed area of one closed run of path data in SVG's frame, Y down, arcs exactly. */
function pathArea(d: string): number {
  const steps = [...d.matchAll(/([MLAZ])([^MLAZ]*)/g)].map((m) => ({
    command: m[1] as string,
    n: (m[2]?.match(/-?\d*\.?\d+/g) ?? []).map(Number),
  }));
  const first = steps[0]?.n as unknown as Pair;
  let at: Pair = first;
  let area = 0;
  for (const { command, n } of steps.slice(1)) {
    const to = (command === "Z" ? first : n.slice(-2)) as unknown as Pair;
    area += (at[0] * to[1] - to[0] * at[1]) / 2;
    if (command === "A") area += bow(at, to, n[0] as number, n[3] === 1, n[4] === 1);
    at = to;
  }
  return area;
}

/** Area between an arc and its chord; positive where the sweep flag is set. */
function bow(from: Pair, to: Pair, r: number, large: boolean, positive: boolean): number {
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const small = 2 * Math.asin(Math.min(1, chord / (2 * r)));
  const angle = large ? 2 * Math.PI - small : small;
  return ((positive ? 1 : -1) * r * r * (angle - Math.sin(angle))) / 2;
}

describe("paths", () => {
  const contours = Object.entries(drawn()).flatMap(([file, { entities }]) =>
    entities.map((e, i) => [`${file} ${i}`, contourOf(e)] as const),
  );

  it.each(contours)("%s keeps its area", (_, contour) => {
    // Y is turned, so counter-clockwise areas come out negative. Three decimals: 0.5 µm along the outline.
    expect(Math.abs(-pathArea(pathOf(contour)) - signedArea(contour))).toBeLessThan(0.25);
  });
});

describe("picture", () => {
  const plan = samplePlan();

  it("shows every plate with its openings, and the sheet in true size", () => {
    for (const sheet of plan.sheets) {
      const root = parseHtml(layoutSvg(sheet, plan.origin));
      const plates = all(root, "path").filter((p) => p.attributes.get("fill-rule") === "evenodd");
      expect(plates.length).toBe(sheet.placements.length);
      plates.forEach((plate, i) => {
        const runs = plate.attributes.get("d")?.match(/M/g) ?? [];
        expect(runs.length).toBe(1 + (sheet.placements[i]?.inner.length ?? 0));
      });
      const svg = all(root, "svg")[0];
      const view = svg?.attributes.get("viewBox")?.split(" ").map(Number) ?? [];
      expect(svg?.attributes.get("width")).toBe(`${view[2]}mm`);
      expect(svg?.attributes.get("height")).toBe(`${view[3]}mm`);
      const text = all(root, "text").map(textOf);
      expect(text).toContain("300 mm");
      expect(text).toContain("200 mm");
      expect(text).toContain("X0 Y0, Z0 top of sheet");
    }
  });

  it("names itself to those who cannot see it", () => {
    const root = parseHtml(layoutSvg(plan.sheets[0] as (typeof plan.sheets)[number], plan.origin));
    const svg = all(root, "svg")[0];
    const ids = svg?.attributes.get("aria-labelledby")?.split(" ");
    expect(ids).toEqual(
      [all(root, "title")[0], all(root, "desc")[0]].map((e) => e?.attributes.get("id")),
    );
    expect(textOf(all(root, "desc")[0] ?? "")).toContain("arm 1, arm 2, arm 3, arm 4");
  });
});

describe("tabs in breaking order", () => {
  const tab = fc.record({
    plate: fc.constantFrom("a", "b"),
    copy: fc.integer({ min: 1, max: 2 }),
    feature: fc.constantFrom(undefined, 0, 3),
    at: fc.record({ x: fc.integer({ min: 0, max: 90 }), y: fc.integer({ min: 0, max: 90 }) }),
  });

  it("is every tab once, plate by plate, slugs before outlines", () => {
    fc.assert(
      fc.property(fc.array(tab), (tabs) => {
        const order = breakingOrder(tabs);
        expect(new Set(order)).toEqual(new Set(tabs));
        expect(order.length).toBe(tabs.length);
        const plates = order.map((t) => `${t.plate} ${t.copy}`);
        const firsts = plates.filter((p, i) => p !== plates[i - 1]);
        expect(new Set(firsts).size).toBe(firsts.length);
        order.forEach((t, i) => {
          const next = order[i + 1];
          if (next === undefined || plates[i] !== plates[i + 1]) return;
          expect(t.feature === undefined && next.feature !== undefined).toBe(false);
        });
      }),
    );
  });

  it("goes across after each tab", () => {
    const at = (x: number, y: number) => ({ plate: "a", copy: 1, at: { x, y } });
    const [east, north, west, south] = [at(9, 0), at(0, 9), at(-9, 0), at(0, -9)];
    const order = breakingOrder([east, north, west, south]);
    // Each pair adds up to the middle.
    for (const [a, b] of [order.slice(0, 2), order.slice(2)]) {
      expect([(a?.at.x ?? 9) + (b?.at.x ?? 9), (a?.at.y ?? 9) + (b?.at.y ?? 9)]).toEqual([0, 0]);
    }
  });

  it("is what the numbers say", () => {
    const sheet = samplePlan().sheets[0];
    const numbers = sheet === undefined ? [] : numberedTabs(sheet).map((t) => t.number);
    expect(numbers).toEqual(Array.from({ length: sheet?.tabs.length ?? 0 }, (_, i) => i + 1));
  });
});

describe("text", () => {
  it("numbers are plain", () => {
    expect([0.1 + 0.2, -0.0001, 1e21 / 1e21, -2.5].map(num)).toEqual(["0.3", "0", "1", "-2.5"]);
  });

  it("escaped text reads back as it was", () => {
    fc.assert(
      fc.property(fc.string(), (s) => {
        expect(textOf(parseHtml(`<p>${escapeText(s)}</p>`))).toBe(
          // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what XML cannot hold.
          s.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, "\ufffd"),
        );
      }),
    );
  });
});
