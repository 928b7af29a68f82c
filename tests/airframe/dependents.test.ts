/**
 * What moves when one number changes, by name; everything else stays to the thousandth. Without lightening windows,
 * which go round whatever moved.
 */
import { describe, expect, test } from "vitest";
import type { Drafted } from "../../src/core/airframe/draft.ts";
import { draftData, presetData, shapeText, stopsOf } from "./drafted.ts";

/** Shape of every outline and cutout by `plate: name`, and what else of the airframe has a place. */
function shapes(d: Drafted): Map<string, string> {
  expect(stopsOf(d)).toEqual([]);
  const all = new Map<string, string>();
  for (const p of d.airframe?.plates ?? []) {
    all.set(`${p.name}: outline`, shapeText(p.outer));
    for (const c of p.cutouts) {
      all.set(`${p.name}: ${c.name}`, shapeText(c.contour));
    }
    all.set(`${p.name}: height`, p.stands.map((s) => ("z" in s ? s.z.toFixed(3) : "")).join());
    for (const q of p.points) {
      all.set(`${p.name}: point ${q.name}`, `${q.at.x.toFixed(3)},${q.at.y.toFixed(3)}`);
    }
  }
  return all;
}

const known = new Map<string, Map<string, string>>();

/** Each preset is drawn once as it stands. */
function unchanged(preset: string, file: unknown): Map<string, string> {
  const found = known.get(preset) ?? shapes(draftData(file));
  known.set(preset, found);
  return found;
}

// biome-ignore lint/suspicious/noExplicitAny: a file's content, to be changed at will.
type Change = (file: any) => void;

function moved(preset: string, change: Change): Set<string> {
  const file = presetData(preset);
  delete file.airframe.lighten;
  const before = unchanged(preset, file);
  change(file);
  const after = shapes(draftData(file));
  expect(new Set(after.keys())).toEqual(new Set(before.keys()));
  return new Set([...before.keys()].filter((k) => before.get(k) !== after.get(k)));
}

const numbered = (text: string, n: number): string[] =>
  Array.from({ length: n }, (_, i) => text.replace("#", String(i + 1)));

describe("thickness of the sheet that deck, top and camera sides are cut from", () => {
  test("measured 1.96 to 2.2: slots widen, tabs lengthen, sides move apart, plates rise; nothing else", () => {
    const keys = moved("saltmarsh-240.yaml", (f) => {
      f.sheets[1].measuredThickness = 2.2;
    });
    const slots = ["clamp", "top"].flatMap((plate) =>
      (plate === "clamp" ? ["1", "2"] : ["1"]).flatMap((n) =>
        ["right", "left"].map((side) => `${plate}: camera slot ${n} ${side}`),
      ),
    );
    expect(keys).toEqual(
      new Set([
        ...slots,
        // Two tabs stand a slot's end from the corners, so they move with the slot's width.
        "camera-side: outline",
        "camera-side: point lower tab 1",
        "camera-side: point lower tab 2",
        "arm: height",
        "camera-side: height",
        "clamp: height",
        "top: height",
      ]),
    );
  });

  test("a slot is as wide as the measured sheet and the clearance, and as long as the tab with its round ends", () => {
    const file = presetData("saltmarsh-240.yaml");
    file.sheets[1].measuredThickness = 1.93;
    file.airframe.camera.clearance = 0.12;
    const d = draftData(file);
    const top = d.airframe?.plates.find((p) => p.name === "top");
    const slots = top?.cutouts.filter((c) => c.name.startsWith("camera slot")) ?? [];
    expect(slots).toHaveLength(2);
    for (const { contour } of slots) {
      const widths = contour.segments.filter((s) => s.kind === "arc").map((s) => 2 * s.radius);
      expect(widths).toHaveLength(2);
      for (const w of widths) expect(w).toBeCloseTo(1.93 + 0.12, 3);
    }
    // Tabs reach just through: from the deck's face by the deck's thickness.
    const side = d.airframe?.plates.find((p) => p.name === "camera-side");
    const ys = side?.outer.segments.map((s) => s.from.y) ?? [];
    expect(Math.min(...ys)).toBeCloseTo(-1.93, 3);
    expect(Math.max(...ys)).toBeCloseTo(25 + 1.93, 3);
  });
});

test("propeller and its wheelbase: arms and motors alone, of separate arms", () => {
  const keys = moved("headland-560.yaml", (f) => {
    f.airframe.propeller.diameter = 280;
  });
  expect(keys).toEqual(
    new Set([
      "arm: outline",
      "arm: motor wire slot",
      "arm: motor relief",
      ...numbered("arm: motor screw #", 4),
      "arm: point motor",
    ]),
  );
});

test("propeller of a one-piece frame: outline, motors and their points on the bottom plate alone", () => {
  const keys = moved("breakwater-208.yaml", (f) => {
    f.airframe.propeller.diameter = 140;
  });
  expect(keys).toEqual(
    new Set([
      "bottom: outline",
      ...[1, 2, 3].flatMap((m) => [
        `bottom: motor ${m} relief`,
        ...numbered(`bottom: motor ${m} screw #`, 4),
        `bottom: point motor-${m}`,
      ]),
    ]),
  );
});

test("stack pattern: its holes, and what is laid out round them; motors, rows and camera stay", () => {
  const keys = moved("saltmarsh-240.yaml", (f) => {
    f.airframe.stack = { ...f.airframe.stack, side: 35, board: 36.5 };
  });
  expect(keys).toEqual(
    new Set([
      ...["bottom", "clamp"].flatMap((p) => [
        ...numbered(`${p}: stack #`, 4),
        // The inner arm screws are stack screws; the outer ones keep their pitch from them.
        ...numbered(`${p}: arm # outer screw`, 4),
        `${p}: outline`,
      ]),
      ...["bottom", "clamp", "top"].flatMap((p) => numbered(`${p}: point stack-#`, 4)),
      "arm: inner screw",
      "arm: outer screw",
      "arm: outline",
      "arm: motor wire slot",
      "arm: point inner screw",
      "arm: point outer screw",
    ]),
  );
});

test("camera: its sides and their slots alone", () => {
  const keys = moved("saltmarsh-240.yaml", (f) => {
    f.airframe.camera.tiltDeg = [0, 30];
  });
  expect(keys).toEqual(new Set(["camera-side: tilt slot"]));
});
