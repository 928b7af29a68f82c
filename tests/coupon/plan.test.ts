/** Coupons as jobs: planned and proven, where they lie, and what they hold. */
import { describe, expect, test } from "vitest";
import { couponOf } from "../../src/core/coupon/coupon.ts";
import { couponForm, measuredTemplate, withForm } from "../../src/core/coupon/form.ts";
import { markSize, marks, markWords, reachOf } from "../../src/core/coupon/marks.ts";
import { couponPiece, LONG_PAIRS } from "../../src/core/coupon/piece.ts";
import { bounds } from "../../src/core/geometry/contour.ts";
import type { Box } from "../../src/core/geometry/shape.ts";
import { parseMeasured } from "../../src/core/job/keys/measured.ts";
import { couponFor, jobOf, outlineOf, planned } from "./job.ts";

describe.each([
  ["2 mm cutter", {}, undefined, 5, 3],
  ["3.175 mm cutter in 4 mm sheet", { thickness: 4 }, "large", 5, 1],
  ["2 mm cutter in 1.9 mm sheet", { thickness: 1.9 }, undefined, 3, 3],
  ["small sheet", { size: [150, 140] as const }, undefined, 5, 3],
])("%s", (_, given, cutter, slots, holes) => {
  const coupon = couponFor(given, cutter);
  const made = planned(coupon);

  test("is planned and proven like any job", () => {
    expect(made.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(made.plan?.proof.proven).toBe(true);
    expect(made.plan?.cutters.map((c) => c.name)).toEqual([coupon.plan.cutter]);
  });

  test("has its slots, tongues and holes", () => {
    expect(coupon.plan.slots.length).toBe(slots);
    expect(coupon.plan.tongues.length).toBe(5);
    expect(coupon.plan.walls.filter((w) => w.axis === "both").length).toBe(holes);
  });

  test("lies along the machine's axes, and every wall is as far apart as the form says", () => {
    const placement = made.plan?.sheets[0]?.placements.find((p) => p.plate === "coupon");
    expect(placement?.rotationDeg).toBe(0);
    expect(placement?.flipped).toBe(false);
    const [width, height] = ["E", "F"].map(
      (id) => coupon.plan.walls.find((w) => w.id === id)?.drawn,
    );
    const xs = placement?.outer.segments.map((s) => s.to[0]) ?? [];
    const ys = placement?.outer.segments.map((s) => s.to[1]) ?? [];
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(width as number, 6);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(height as number, 6);
    const windows = placement?.features.filter((f) => f.kind === "window") ?? [];
    for (const w of coupon.plan.walls.filter((x) => x.side === "inside" && x.axis !== "both")) {
      const at = [w.at.x + (placement?.x ?? 0), w.at.y + (placement?.y ?? 0)];
      const f = windows.find(
        (x) => Math.hypot(x.at[0] - (at[0] ?? 0), x.at[1] - (at[1] ?? 0)) < 0.01,
      );
      const axis = w.axis === "x" ? 0 : 1;
      const ends = f?.contour.segments.map((s) => s.to[axis]) ?? [];
      expect(Math.max(...ends) - Math.min(...ends), w.id).toBeCloseTo(w.drawn, 6);
    }
  });
});

describe("engraved marks", () => {
  const pieces = LONG_PAIRS.flatMap((long) =>
    [1, 2, 3.175].flatMap((diameter) =>
      [1.5, 2, 4, 6].map((thickness) => ({ long, diameter, thickness })),
    ),
  );

  test.each(pieces)("%o: stand clear of everything that is cut, and of each other", (given) => {
    const piece = couponPiece({ sheet: "s", cutter: "c", clearance: 0.1, ...given });
    const boxes = piece.marks.map((m) => bounds(m));
    const cut = [...piece.cut.map((c) => bounds(c)), ...boxes];
    boxes.forEach((a, i) => {
      // In a row of a number they are 1.2 mm apart.
      const near = cut.filter((b, k) => k !== piece.cut.length + i && apart(a, b) < 1);
      expect(near).toEqual([]);
      for (const [low, high, end] of [
        [a.min.x, a.max.x, piece.width],
        [a.min.y, a.max.y, piece.height],
      ] as const) {
        expect(Math.min(low, end - high)).toBeGreaterThan(1.5);
      }
    });
  });

  test("are as many as walls, slots and holes have numbers", () => {
    const piece = couponPiece({
      ...{ sheet: "s", cutter: "c", clearance: 0.1 },
      ...{ long: 125, diameter: 2, thickness: 2 },
    });
    const walls = piece.plan.walls.filter((w) => w.axis !== "both");
    expect(walls.map((w) => [w.id, markWords(w.mark)])).toEqual([
      ["A", "a dot"],
      ["B", "2 dots"],
      ["C", "3 dots"],
      ["D", "4 dots"],
      ["E", "a stroke"],
      ["F", "a stroke and a dot"],
    ]);
    const numbers = [
      ...piece.plan.walls.map((w) => w.mark),
      ...piece.plan.slots.map((s) => s.number),
    ];
    const engraved = numbers.reduce((n, k) => n + Math.floor(k / 5) + (k % 5), 0);
    expect(piece.marks.length).toBe(engraved);
  });
});

function apart(a: Box, b: Box): number {
  const dx = Math.max(a.min.x - b.max.x, b.min.x - a.max.x, 0);
  const dy = Math.max(a.min.y - b.max.y, b.min.y - a.max.y, 0);
  return Math.hypot(dx, dy);
}

test("numbers are dots, five of them a stroke", () => {
  const size = markSize(2);
  for (const [number, count] of [
    [1, 1],
    [4, 4],
    [5, 1],
    [7, 3],
    [10, 2],
  ] as const) {
    const made = marks(number, { x: 0, y: 0 }, size);
    expect(made.length).toBe(count);
    const top = Math.max(...made.map((m) => bounds(m).max.y));
    expect(top).toBeCloseTo(reachOf(number, size), 9);
  }
});

test("it keeps off keep-outs, and says where there is no room", () => {
  const clear = couponFor({ keepOut: "[{ at: [8, 8], diameter: 16 }]" });
  const [fixed] = clear.job.plates[0]?.fixed ?? [];
  expect(Math.hypot((fixed?.x ?? 0) - 8, (fixed?.y ?? 0) - 8)).toBeGreaterThan(8);
  const { value, findings } = couponOf(jobOf({ size: [100, 100] }), { clearance: 0.1 }, outlineOf);
  expect(value).toBeUndefined();
  expect(findings.map((f) => f.code)).toEqual(["coupon-no-room"]);
  expect(findings[0]?.hint).toBeTruthy();
});

test("an unknown sheet or cutter is named, and a drill makes no coupon", () => {
  const said = (choice: { sheet?: string; cutter?: string }) =>
    couponOf(jobOf(), { clearance: 0.1, ...choice }, outlineOf).findings.map((f) => f.code);
  expect(said({ sheet: "none" })).toEqual(["coupon-unknown"]);
  expect(said({ cutter: "drill" })).toEqual(["coupon-unknown"]);
});

test("the form has a blank for every measure, and the file a row", () => {
  const { plan } = couponFor();
  const form = couponForm(plan, "measured.yaml").html;
  const file = measuredTemplate(plan, "../job.yaml");
  for (const w of plan.walls) {
    expect(form).toContain(`${w.what}, measured`);
    expect(file).toContain(`id: ${w.id},`);
  }
  const sheet = withForm("<main>x</main>", plan, "measured.yaml");
  expect(sheet.endsWith("</main>")).toBe(true);
  expect(sheet).toContain("best slot");
});

test.each([
  ["125,21", "coupon-decimal-comma", "125.21"],
  ["l25.21", "wrong-type", undefined],
  ["-125", "out-of-range", undefined],
])("measured: %s in the file is refused at its line", (typed, code, wayOut) => {
  const file = measuredTemplate(couponFor().plan, "../job.yaml");
  const text = file.replace(
    "id: A, axis: x, side: inside, drawn: 125, measured: ",
    (m) => m + typed,
  );
  const { value, findings } = parseMeasured({ name: "measured.yaml", text });
  expect(value).toBeUndefined();
  expect(findings.map((f) => [f.code, f.severity])).toEqual([[code, "stop"]]);
  const line = text.split("\n").findIndex((l) => l.includes(typed)) + 1;
  expect(findings[0]?.drawing).toEqual({ file: "measured.yaml", line });
  expect(findings[0]?.message).not.toContain("group of keys");
  if (wayOut !== undefined) expect(findings[0]?.hint).toContain(wayOut);
});
