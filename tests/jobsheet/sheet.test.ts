/** The job sheet judged by its structure, as a browser would read it. */
import { describe, expect, it } from "vitest";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { layoutSvg } from "../../src/core/layout/picture.ts";
import { all, type Element, parseHtml, textOf } from "./parse-html.ts";
import { samplePlan } from "./sample-plan.ts";

const extras = {
  borderFiles: { "carbon-4": "border-carbon-4.nc", "carbon-2": "border-carbon-2.nc" },
  entries: { "carbon-4": [[20, 30]] as const },
};

function sheetOf(plan: PlanJson = samplePlan()): Element {
  return parseHtml(jobSheet(plan, extras));
}

function part(root: Element, id: string): Element {
  const found = all(root, "section").find((s) => s.attributes.get("aria-labelledby") === id);
  if (found === undefined) throw new Error(`no part ${id}`);
  return found;
}

function rows(root: Element, caption: string): string[][] {
  const table = all(root, "table").find((t) => textOf(all(t, "caption")[0] ?? "") === caption);
  if (table === undefined) throw new Error(`no table ${caption}`);
  const body = all(table, "tbody")[0] as Element;
  return all(body, "tr").map((tr) => tr.children.map(textOf));
}

const OWN_ELEMENTS = new Set(
  (
    "html head meta title style body header main nav footer section h1 h2 h3 p a ul ol li dl dt dd div span " +
    "strong em code table caption thead tbody tr th td figure figcaption details summary input label " +
    "svg desc defs pattern path rect circle text tspan g"
  ).split(" "),
);

/** Nothing that could reach out or run. */
function expectContained(root: Element): void {
  for (const element of all(root)) {
    expect(OWN_ELEMENTS).toContain(element.tag);
    for (const [name, value] of element.attributes) {
      expect(name).not.toMatch(/^on|^src|^style$|^xlink|^action|^ping|^srcdoc/i);
      if (name === "href") expect(value).toMatch(/^#[a-z]+$/);
      if (/url\(/.test(value)) expect(value).toMatch(/^url\(#[a-z0-9-]+\)$/);
      if (name !== "xmlns") expect(value).not.toMatch(/https?:|javascript:|data:/i);
    }
  }
  for (const style of all(root, "style")) {
    expect(textOf(style)).not.toMatch(/url\(|@import|expression|https?:/i);
  }
}

describe("structure", () => {
  const root = sheetOf();

  it("reaches for nothing and says so", () => {
    expectContained(root);
    const policy = all(root, "meta").find((m) => m.attributes.has("http-equiv"));
    expect(policy?.attributes.get("content")).toContain("default-src 'none'");
    expect(policy?.attributes.get("content")).not.toContain("script-src");
  });

  it("has its parts in order of use", () => {
    expect(all(root, "h2").map(textOf)).toEqual([
      "What this cuts",
      "Before you start",
      "Cutters and rates",
      "Programs, in this order",
      "Layout",
      "Proof",
      "Holes and fits",
      "Times and costs",
      "Findings",
      "Where the rates come from",
    ]);
  });

  it("lists in its contents every part that it has, in the same order", () => {
    const [nav] = all(root, "nav");
    const links = all(nav ?? root, "a").map((a) => a.attributes.get("href"));
    expect(links).toEqual(all(root, "h2").map((h) => `#${h.attributes.get("id")}`));
  });

  it("has ids once, and every reference to one resolves", () => {
    const ids = all(root).flatMap((e) => e.attributes.get("id") ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const element of all(root)) {
      const { attributes } = element;
      const wanted = [
        ...(attributes.get("aria-labelledby")?.split(" ") ?? []),
        ...[attributes.get("for") ?? []].flat(),
        ...[attributes.get("href")?.slice(1) ?? []].flat(),
        ...[...attributes.values()].flatMap((v) => /^url\(#(.*)\)$/.exec(v)?.[1] ?? []),
      ];
      for (const id of wanted) expect(ids).toContain(id);
    }
  });

  it("labels every control", () => {
    const labelled = new Set(all(root, "label").map((l) => l.attributes.get("for")));
    for (const input of all(root, "input")) {
      const named = input.attributes.get("aria-label") ?? "";
      expect(named !== "" || labelled.has(input.attributes.get("id"))).toBe(true);
    }
  });

  it("has as many cells in a row as the table has heads", () => {
    for (const table of all(root, "table")) {
      const heads = all(all(table, "thead")[0] as Element, "th").length;
      for (const tr of all(all(table, "tbody")[0] as Element, "tr")) {
        expect(tr.children.length).toBe(heads);
      }
    }
  });
});

describe("what it tells", () => {
  const root = sheetOf();
  const plan = samplePlan();

  it("every kind of plate with its size as drawn, count and mass", () => {
    const plates = rows(part(root, "cuts"), "Plates, as drawn");
    expect(plates.map((r) => r.slice(0, 4))).toEqual([
      // Drawn 138.6 long, though it lies turned on its sheet.
      ["arm", "138.62 × 30", "4", "4"],
      ["bottom-plate", "79.88 × 99.94", "2", "1"],
      ["top-plate", "74 × 97", "2", "1"],
      ["camera-side", "32 × 38", "2", "2"],
    ]);
    // Each with a picture between its sizes.
    const pictures = all(part(root, "cuts"), "figure");
    expect(pictures.map((f) => all(f, "span").map(textOf))).toEqual([
      ["30", "138.62"],
      ["99.94", "79.88"],
      ["97", "74"],
      ["38", "32"],
    ]);
    expect(textOf(pictures[0] as Element)).toContain("arm 4 times, 4 mm thick");
  });

  it("programs in order, with the changes between them", () => {
    const list = all(part(root, "programs"), "ol")[0] as Element;
    const items = list.children.map(textOf);
    expect(items.length).toBe(plan.programs.length);
    for (const [i, p] of plan.programs.entries()) expect(items[i]).toContain(p.file);
    expect(items[1]).toContain("Clamp sheet carbon-2");
    expect(items[1]).toContain("Put in cutter router-1.5");
    expect(items[2]).not.toContain("Clamp");
    expect(items[2]).toContain("Set Z at the sheet's top");
    expect(items[0]).toContain("border-carbon-4.nc");
    expect(items[2]).not.toContain("border-");
    // 6.912 m in two programs use 172.8 % of a life: the first half fits, the second needs a new cutter.
    expect(items[0]).toContain("from 0 % to 86 %");
    expect(items[2]).toContain("Put in a new router-2");
    expect(items[2]).toContain("from 0 % to 86 %");
    expect(items[0]).not.toContain("Put in a new");
    expect(textOf(root)).not.toContain("this program alone");
  });

  it("a program that wears out more than one cutter", () => {
    const cutters = plan.cutters.map((c) => ({ ...c, lifeUsed: 5 }));
    const text = textOf(part(sheetOf({ ...plan, cutters }), "programs"));
    expect(text.match(/this program alone/g)?.length).toBe(plan.programs.length);
    const unknown = plan.cutters.map((c) => ({ ...c, lifeUsed: 0 }));
    const silent = textOf(part(sheetOf({ ...plan, cutters: unknown }), "programs"));
    expect(silent).not.toContain("worn from");
    expect(silent).toContain("cutter life not given");
  });

  it("every tab once, by number, in the pictures and in the lists", () => {
    const figures = all(part(root, "layout"), "figure");
    expect(figures.length).toBe(2);
    for (const [i, figure] of figures.entries()) {
      const tabs = plan.sheets[i]?.tabs.length ?? 0;
      const numbers = all(figure, "text")
        .map(textOf)
        .filter((t) => /^\d+$/.test(t))
        .map(Number);
      // The legend shows a disc with a 1 in it too.
      const expected = [1, ...Array.from({ length: tabs }, (_, n) => n + 1)];
      expect(numbers.sort((a, b) => a - b)).toEqual(expected);
    }
  });
});

describe("what it tells of proof and fits", () => {
  const root = sheetOf();
  const plan = samplePlan();

  it("the proof's checks with worst and limit, failures first", () => {
    const { proof } = plan;
    const failing = {
      ...plan,
      proof: {
        ...proof,
        proven: false,
        checks: [
          ...proof.checks,
          { code: "tab-holds", passed: false, worst: 1.25, limit: 4, unit: "mm", plate: "arm" },
        ],
      },
    };
    const failed = sheetOf(failing);
    const checks = rows(part(failed, "proof"), "Checks of the programs as they were read back");
    expect(checks[0]).toEqual(["tab holds", "FAILS", "1.25", "≥ 4", "mm", "arm"]);
    expect(checks.length).toBe(3);
    expect(textOf(failed)).toContain("do not cut with these programs");
    expect(textOf(part(failed, "proof"))).not.toContain("Proven.");
  });

  it("plainly what is not proven", () => {
    const { proof } = plan;
    const unproven = sheetOf({ ...plan, proof: { ...proof, proven: false, checks: [] } });
    expect(textOf(all(unproven, "header")[0] as Element)).toContain("Not proven");
    expect(textOf(part(unproven, "proof"))).toContain("Not proven");
    expect(all(part(unproven, "proof"), "table")).toEqual([]);
  });

  it("blanks for callipers on every hole, slot and window", () => {
    const fits = part(root, "fits");
    expect(rows(fits, "arm").map((r) => r.slice(0, 4))).toEqual([
      ["outline", "1", "138.62 × 30", ""],
      ["hole", "1", "⌀ 6", ""],
      ["hole", "6", "⌀ 3.4", "M3 medium (ISO 273)"],
      ["slot", "1", "6 × 42", ""],
    ]);
    for (const tr of all(fits, "tr")) {
      if (all(tr, "td").length > 0) expect(all(tr, "input").length).toBeGreaterThan(0);
    }
  });

  it("where zero is, for every origin", () => {
    const at = textOf(part(root, "before"));
    expect(at).toContain("Z0 is the top of the sheet");
    expect(at).toContain("X0 Y0 is the sheet's lower left corner");
    const other = sheetOf({ ...plan, origin: { at: "centre", z: "spoilboard" } });
    expect(textOf(part(other, "before"))).toContain("Z0 is the top of the board");
    expect(textOf(part(other, "before"))).toContain("X0 Y0 is the middle of the sheet");
    expect(textOf(part(other, "programs"))).toContain("Set Z at the board");
  });

  it("findings, gravest first", () => {
    const items = all(part(root, "findings"), "li").map((li) => li.attributes.get("class"));
    expect(items).toEqual(["warn", "note"]);
  });
});

describe("cautions", () => {
  const text = textOf(part(sheetOf(), "before"));

  it("give the limits with their sources and call none of them safe", () => {
    // Values: 29 CFR 1910.1000 Table Z-1, ACGIH, COSHH/EH40, TRGS 900.
    expect(text).toContain("US 15 total and 5 respirable (29 CFR 1910.1000 Table Z-1)");
    expect(text).toContain("Germany 10 inhalable and 1.25 respirable (TRGS 900)");
    expect(text).toContain("No limit in law is specific to carbon-fibre dust");
    expect(text).toContain("Local rules");
    expect(text).not.toMatch(/\bsafe (level|limit)|is safe\b|are safe\b/i);
  });

  it("speak of the material that is cut", () => {
    expect(text).toContain("Carbon dust conducts");
    const plan = samplePlan();
    const glass = plan.sheets.map((s) => ({ ...s, material: "glass-epoxy" as const }));
    const other = textOf(part(sheetOf({ ...plan, sheets: glass }), "before"));
    expect(other).not.toContain("Carbon dust conducts");
    expect(other).toContain("Glass dust does not conduct");
  });
});

describe("hostile names", () => {
  const evil = [
    `<script>alert(1)</script>`,
    `"><img src=x onerror=alert(1)>`,
    `' onload='alert(1)`,
    `</style></svg></title><b>`,
    `]]><!--`,
    `&lt;i&gt; &#x3c;i&#x3e;`,
    `javascript:alert(1)`,
  ];

  it.each(evil)("%s shows as text", (name) => {
    const plan = samplePlan();
    const hostile: PlanJson = {
      ...plan,
      name,
      machine: { ...plan.machine, name },
      sheets: plan.sheets.map((s) => ({
        ...s,
        name,
        placements: s.placements.map((p) => ({ ...p, plate: name, drawing: name })),
        tabs: s.tabs.map((t) => ({ ...t, plate: name })),
      })),
      cutters: plan.cutters.map((c) => ({ ...c, name })),
      programs: plan.programs.map((p) => ({
        ...p,
        file: name,
        sheet: name,
        cutter: name,
        limitedBy: name,
        rateSteps: p.rateSteps.map((s) => ({ ...s, quantity: name, formula: name, source: name })),
      })),
      findings: plan.findings.map((f) => ({ ...f, message: name, hint: name, plate: name })),
      estimate: { ...plan.estimate, currency: name, assumptions: [name] },
    };
    const root = parseHtml(jobSheet(hostile, { borderFiles: { [name]: name } }));
    expectBenign(root, name);
    const svg = parseHtml(layoutSvg(hostile.sheets[0] as PlanJson["sheets"][number]));
    expectBenign(svg, name);
  });

  /** As `expectContained`, but the name itself may stand in attributes that are text. */
  function expectBenign(root: Element, name: string): void {
    expect(textOf(root)).toContain(name);
    for (const element of all(root)) {
      expect(OWN_ELEMENTS).toContain(element.tag);
      for (const attribute of element.attributes.keys()) {
        expect(attribute).not.toMatch(/^on|^src/i);
      }
      const href = element.attributes.get("href");
      if (href !== undefined) expect(href).toMatch(/^#[a-z]+$/);
    }
  }

  it("control characters and lone surrogates do not reach the page", () => {
    const text = jobSheet({ ...samplePlan(), name: "a\u0000b\ud800c\u001bd" });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is the point.
    expect(text).not.toMatch(/[\u0000-\u0008\u000b-\u001f]|[\ud800-\udfff]/u);
    expect(text).toContain("a\ufffdb\ufffdc\ufffdd");
  });
});
