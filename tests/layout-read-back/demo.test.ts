/** The demo's layout, changed by hand in its DXF and read back. */
import { describe, expect, it } from "vitest";
import { layoutDxf, layoutSvg } from "../../src/core/layout/picture.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import { apart, demoJob, gathered, planned } from "./demo.ts";
import { type Habit, type Move, moveDxf } from "./move-dxf.ts";

const first = planned(demoJob());
/** Other places that a plan may have. */
const other = planned(demoJob(), 7);
const sheets = first.plan?.sheets ?? [];
const wanted = other.plan?.sheets ?? [];

/** The same job with its layouts by hand. */
const BY_HAND = demoJob().replace(/^ {2}- name: (carbon-\d)$/gm, "$&\n    layout: hand-$1.dxf");

/** From the first plan's place to the other's: back to the plate's zero, and out again. */
function moveFor(sheet: number, layer: string): Move | undefined {
  const named = (p: { plate: string; copy: number }): boolean =>
    layer === `PLATE ${p.plate} ${p.copy}`;
  const a = sheets[sheet]?.placements.find(named);
  const b = wanted[sheet]?.placements.find(named);
  if (a === undefined || b === undefined) return undefined;
  const turn = b.rotationDeg - a.rotationDeg;
  const rad = (turn * Math.PI) / 180;
  return {
    turn,
    x: b.x - (a.x * Math.cos(rad) - a.y * Math.sin(rad)),
    y: b.y - (a.x * Math.sin(rad) + a.y * Math.cos(rad)),
  };
}

function byHand(habit: Habit): Map<string, string> {
  return new Map(
    sheets.map((s, i) => [
      `hand-${s.name}.dxf`,
      moveDxf(first.files.get(`layout-${s.name}.dxf`) ?? "", (l) => moveFor(i, l), habit),
    ]),
  );
}

/** How far what the job's orders then say lies from where the plates were moved. */
function readApart(files: ReadonlyMap<string, string>): { off: number; codes: string[] } {
  const { orders, sheets: all, findings } = gathered(BY_HAND, files);
  const laid = layPlates({ sheets: all, plates: orders, widestCutter: 2 });
  const corner = (x: number, y: number): readonly [number, number] => [x, y];
  const read = laid.value.map(({ placements }) => ({
    placements: placements.map((p) => ({
      plate: p.plate.name,
      copy: p.copy,
      rings: [p.outer, ...p.features.map((f) => f.contour)].map((c) => ({
        start: corner(c.segments[0]?.from.x ?? 0, c.segments[0]?.from.y ?? 0),
        segments: c.segments.map((s) => ({
          to: corner(s.to.x, s.to.y),
          ...(s.kind === "arc" ? { centre: corner(s.centre.x, s.centre.y), ccw: s.sweep > 0 } : {}),
        })),
      })),
    })),
  }));
  const asPlan = read.map(({ placements }, i) => ({
    ...wanted[i],
    placements: placements.map(({ rings: [outer, ...inner], ...p }) => ({ ...p, outer, inner })),
  }));
  const codes = [...findings, ...laid.findings].map((f) => f.code);
  return { off: apart(wanted, asPlan as unknown as typeof wanted), codes };
}

describe("a layout that was changed by hand", () => {
  it("begins elsewhere than it ends", () => {
    expect(first.plan?.proof.proven).toBe(true);
    expect(apart(sheets, wanted)).toBeGreaterThan(10);
  });

  it("is planned as it was drawn, and proven", () => {
    const { plan, findings } = planned(BY_HAND, 1, byHand({}));
    expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(plan?.proof.proven).toBe(true);
    expect(apart(wanted, plan?.sheets ?? [])).toBeLessThan(0.002);
    expect(findings.filter((f) => f.code === "layout-read").map((f) => f.data["count"])).toEqual([
      4, 4,
    ]);
  });

  it.each<[string, Habit]>([
    ["begun elsewhere", { start: 3 }],
    ["run the other way", { reversed: true, start: 1 }],
    ["broken into lines and arcs", { exploded: true }],
    ["broken, and written to three decimals", { exploded: true, decimals: 3 }],
    ["written to three decimals", { decimals: 3, reversed: true }],
  ])("is read as it was drawn where it is %s", (_, habit) => {
    const { off, codes } = readApart(byHand(habit));
    expect(off).toBeLessThan(0.002);
    expect(codes.filter((code) => code === "layout-read")).toHaveLength(2);
    expect(codes.filter((code) => /^layout-(?!read)/.test(code))).toEqual([]);
  });

  it("may be the picture, whose numbers have three decimals", () => {
    const files = new Map(wanted.map((s) => [`hand-${s.name}.dxf`, layoutSvg(s)]));
    const { off, codes } = readApart(files);
    expect(off).toBeLessThan(0.002);
    expect(codes.filter((code) => /^layout-/.test(code))).toEqual(["layout-read", "layout-read"]);
  });

  it("need not show every copy: the others are laid round it", () => {
    const dxf = moveDxf(layoutDxf(wanted[0] as (typeof wanted)[0]), () => undefined);
    const without = moveDxf(dxf, () => undefined).replaceAll("PLATE arm 3", "erased");
    const {
      orders,
      sheets: all,
      findings,
    } = gathered(BY_HAND, new Map([...byHand({}), ["hand-carbon-4.dxf", without]]));
    const arm = orders.find((o) => o.plate.name === "arm");
    expect([0, 1, 2, 3].map((i) => arm?.place?.[i] !== undefined)).toEqual([
      true,
      true,
      false,
      true,
    ]);
    const laid = layPlates({ sheets: all, plates: orders, widestCutter: 2 });
    expect([...findings, ...laid.findings].filter((f) => f.severity === "stop")).toEqual([]);
    expect(laid.value[0]?.placements.map((p) => p.copy)).toEqual([1, 2, 3, 4]);
  });
});
