import process from "node:process";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mount, padRadius } from "../../src/core/airframe/arms/mount.ts";
import { skeletonOf } from "../../src/core/airframe/arms/skeleton.ts";
import { airframeSchema } from "../../src/core/airframe/file/schema.ts";
import type { AirframePlate, Cutout } from "../../src/core/airframe/model.ts";
import { screwLength } from "../../src/core/airframe/sizes.ts";
import { centroid, contains, distanceTo, signedArea } from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { clearanceHole, SCREWS } from "../../src/core/plate/screw.ts";
import { draftData, draftText, plateOf, presetData, stopsOf } from "./drafted.ts";
import { seededFile } from "./seeded-airframe.ts";

/** ISO 273: fine, medium, coarse. */
const ISO_273 = {
  M2: [2.2, 2.4, 2.6],
  "M2.5": [2.7, 2.9, 3.1],
  M3: [3.2, 3.4, 3.6],
  M4: [4.3, 4.5, 4.8],
  M5: [5.3, 5.5, 5.8],
} as const;

test("clearance holes are ISO 273's", () => {
  for (const screw of SCREWS) {
    const found = (["fine", "medium", "coarse"] as const).map((fit) => clearanceHole(screw, fit));
    expect(found).toEqual(ISO_273[screw]);
  }
});

test("screws come in lengths that are sold, never too short", () => {
  expect([7, 8, 8.1, 23].map(screwLength)).toEqual([8, 8, 10, 25]);
});

const SPEC = presetData("saltmarsh-240.yaml").airframe;
const spec = (change: object) => airframeSchema.parse({ ...SPEC, ...change });

const centre = (c: Cutout) => centroid(c.contour);
const apart = (a: Cutout, b: Cutout) =>
  Math.hypot(centre(a).x - centre(b).x, centre(a).y - centre(b).y);

describe("motor mounts, as common practice names them", () => {
  const holes = (motor: object) =>
    mount(spec({ motor: { screw: "M3", ...motor } }), { x: 100, y: 30 }, 0.7, "m").filter(
      (c) => c.screwHole !== undefined,
    ) as [Cutout, Cutout, Cutout, Cutout];

  test("a bolt circle is across opposite holes", () => {
    const [a, b, c, d] = holes({ boltCircle: 16 });
    expect(apart(a, c)).toBeCloseTo(16, 9);
    expect(apart(b, d)).toBeCloseTo(16, 9);
    expect(apart(a, b)).toBeCloseTo(16 / Math.SQRT2, 9);
  });

  test("a side is of the square", () => {
    const [a, b, c] = holes({ side: 12 });
    expect(apart(a, b)).toBeCloseTo(12, 9);
    expect(apart(b, c)).toBeCloseTo(12, 9);
  });

  test("16 × 19 is two pairs at right angles", () => {
    const [a, b, c, d] = holes({ pairs: [16, 19] });
    expect(apart(a, c)).toBeCloseTo(16, 9);
    expect(apart(b, d)).toBeCloseTo(19, 9);
    const dot =
      (centre(c).x - centre(a).x) * (centre(d).x - centre(b).x) +
      (centre(c).y - centre(a).y) * (centre(d).y - centre(b).y);
    expect(dot).toBeCloseTo(0, 9);
  });

  test("slotted holes are drawn out along the radius by what is asked", () => {
    for (const c of holes({ boltCircle: 16, slot: 1.2 })) {
      expect(c.contour.segments).toHaveLength(4);
      const reach = c.contour.segments.map((s) => Math.hypot(s.from.x - 100, s.from.y - 30));
      expect(Math.max(...reach) - Math.min(...reach)).toBeCloseTo(1.2, 1);
    }
  });

  test("a pad without a size leaves 1.5 holes or more round every screw", () => {
    for (const motor of [{ boltCircle: 9, screw: "M2" }, { boltCircle: 19 }, { pairs: [16, 19] }]) {
      const s = spec({ motor: { screw: "M3", ...motor } });
      const d = clearanceHole(s.motor.screw, "medium");
      const furthest = Math.max(s.motor.boltCircle ?? 0, ...(s.motor.pairs ?? [])) / 2;
      expect(padRadius(s) - furthest).toBeGreaterThanOrEqual(1.5 * d);
    }
  });
});

const LAYOUT_NAMES = ["x", "stretched-x", "h", "offset-front", "plus", "hexa", "tri"];
const EVERY = LAYOUT_NAMES.flatMap((layout) =>
  ["one-piece", "separate-arms"].flatMap((construction) =>
    ["straight", "tapered", "tangent"].map((shape) => [layout, construction, shape] as const),
  ),
);
/** In a normal run every layout, construction and shape at least once; the sweep mixes them anyhow. */
const DRAWN = EVERY.filter((_, i) => process.env["WEFTCUT_LONG"] !== undefined || i % 5 === 0);

describe("layouts", () => {
  const of = (change: object) => skeletonOf(spec(change));

  test("the wheelbase is motor to opposite motor, or drives from the propeller", () => {
    for (const layout of ["x", "stretched-x", "h", "plus", "hexa", "offset-front"]) {
      const { axes, wheelbase } = of({ layout, wheelbase: 300 });
      const far = Math.max(
        ...axes.flatMap((a) =>
          axes.map((b) => Math.hypot(a.motor.x - b.motor.x, a.motor.y - b.motor.y)),
        ),
      );
      expect(wheelbase).toBe(300);
      expect(far, layout).toBeCloseTo(300, 6);
    }
  });

  test("driven by the propeller, the nearest discs are the wanted clearance apart", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("x", "stretched-x", "h", "offset-front", "plus", "hexa", "tri"),
        fc.integer({ min: 40, max: 300 }),
        fc.integer({ min: 2, max: 40 }),
        (layout, diameter, clearance) => {
          const s = of({ layout, wheelbase: undefined, propeller: { diameter, clearance } });
          const gaps = s.axes.flatMap((a, i) =>
            s.axes
              .slice(i + 1)
              .map((b) => Math.hypot(a.motor.x - b.motor.x, a.motor.y - b.motor.y) - diameter),
          );
          expect(Math.min(...gaps)).toBeCloseTo(clearance, 6);
          expect(s.clearance).toBeCloseTo(clearance, 6);
        },
      ),
      { numRuns: 60 },
    );
  });

  test("motors are mirror images left and right, and there are three, four or six", () => {
    const counts = { x: 4, "stretched-x": 4, h: 4, "offset-front": 4, plus: 4, hexa: 6, tri: 3 };
    for (const [layout, count] of Object.entries(counts)) {
      const { axes } = of({ layout });
      expect(axes).toHaveLength(count);
      for (const a of axes) {
        expect(
          axes.some((b) => Math.hypot(b.motor.x + a.motor.x, b.motor.y - a.motor.y) < 1e-9),
        ).toBe(true);
      }
    }
  });

  test.each(DRAWN)("%s draws, %s, %s arms", (layout, construction, shape) => {
    const file = presetData("saltmarsh-240.yaml");
    const { camera: _c, lighten: _l, clamp: _k, standoffs, ...a } = file.airframe;
    const rows = [56, -56].map((at) => ({ at, across: 30 }));
    file.airframe = {
      ...a,
      layout,
      construction,
      stretch: 0.8,
      wheelbase: 330,
      propeller: { diameter: 120, bodyClearance: 0 },
      arms: { ...a.arms, shape, wireSlot: undefined },
      standoffs: { ...standoffs, rows },
      straps: undefined,
      antenna: undefined,
      stack: { side: 30.5 },
    };
    expect(stopsOf(draftData(file))).toEqual([]);
  });
});

function expectKept(p: AirframePlate, w: Cutout, web: number): void {
  const others = [p.outer, ...p.cutouts.filter((c) => c !== w).map((c) => c.contour)];
  const corners = w.contour.segments.map((s) => s.from);
  const nearest = Math.min(...corners.flatMap((q) => others.map((o) => distanceTo(o, q))));
  expect(nearest, w.name).toBeGreaterThan(web - 0.01);
  expect(corners.every((q) => contains(p.outer, q))).toBe(true);
  // Clockwise arcs are the corners of a clockwise window.
  const radii = w.contour.segments.flatMap((s) =>
    s.kind === "arc" && s.sweep < 0 ? [s.radius] : [],
  );
  expect(Math.min(...radii), "corners").toBeGreaterThan(2 - 0.01);
}

describe("lightening", () => {
  const windows = (p: AirframePlate) => p.cutouts.filter((c) => c.name.startsWith("lightening"));

  test.each(["panels", "triangles", "slots"])(
    "%s keep the web and stay out of keep-outs",
    (pattern) => {
      const file = presetData("saltmarsh-240.yaml");
      const web = 3.2;
      file.airframe.lighten = {
        plates: ["bottom", "clamp", "top"],
        pattern,
        web,
        corner: 2,
        least: 30,
      };
      const d = draftData(file);
      expect(stopsOf(d)).toEqual([]);
      let count = 0;
      for (const p of d.airframe?.plates ?? []) {
        for (const w of windows(p)) expectKept(p, w, web);
        count += windows(p).length;
        const saved = d.estimate?.plates.find((e) => e.plate === p.name)?.saved ?? 0;
        // 1.55 g/cm³ of what the windows' own areas come to.
        expect(saved).toBeCloseTo((p.lightened * p.thickness * 1.55) / 1000, 6);
      }
      expect(count).toBeGreaterThan(5);
    },
  );

  test("a neck narrower than the corners is parted by a web, alike on both sides", () => {
    // Two stack screws, 20 mm apart, squeeze the strip between them to less than a corner's diameter.
    const d = draftText(seededFile(155));
    const p = plateOf(d, "bottom");
    const own = windows(p);
    expect(own.length).toBeGreaterThanOrEqual(4);
    for (const w of own) {
      // A disc a little smaller than the corners' gets everywhere without letting go: nothing falls apart.
      const shrunk = offsetRings([w.contour], 1.9 - 0.02).filter((r) => signedArea(r) < 0);
      expect(shrunk, w.name).toHaveLength(1);
    }
    const sum = own.reduce(
      (x, w) => x + centroid(w.contour).x * Math.abs(signedArea(w.contour)),
      0,
    );
    expect(Math.abs(sum)).toBeLessThan(0.5);
  });

  test("the mass saved is the difference to the plate without windows", () => {
    const file = presetData("hedgerow-150.yaml");
    const light = draftData(file);
    delete file.airframe.lighten;
    const solid = draftData(file);
    for (const name of ["top"]) {
      const of = (d: typeof light) => d.estimate?.plates.find((p) => p.plate === name);
      expect((of(solid)?.mass.g ?? 0) - (of(light)?.mass.g ?? 0)).toBeCloseTo(
        of(light)?.saved ?? 0,
        2,
      );
    }
  });
});

test("separate arms meet without touching, and mirror images share one drawing", () => {
  const file = presetData("estuary-320.yaml");
  delete file.airframe.lighten;
  const d = draftData(file);
  const front = plateOf(d, "arm-front");
  const rear = plateOf(d, "arm-rear");
  expect([front.stands.length, rear.stands.length]).toEqual([2, 2]);
  const six = presetData("headland-560.yaml");
  delete six.airframe.lighten;
  const hex = draftData(six);
  expect(plateOf(hex, "arm").stands).toHaveLength(6);
});

test("a bracket with a lens port stands in slots of both sides", () => {
  const file = presetData("estuary-320.yaml");
  delete file.airframe.lighten;
  file.airframe.camera.bracket = { lens: 12, setDeg: 20 };
  const d = draftData(file);
  expect(stopsOf(d)).toEqual([]);
  const bracket = plateOf(d, "bracket");
  expect(bracket.cutouts.map((c) => c.name)).toEqual(["lens"]);
  const side = plateOf(d, "camera-side");
  expect(side.mates).toEqual([
    { slot: expect.anything(), of: "bracket", clearance: file.airframe.camera.clearance ?? 0.1 },
  ]);
});
