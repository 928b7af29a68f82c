/** SVG shapes, paths, transforms, groups, use and hidden things, by SVG 1.1 and 2. Y is turned up. */
import { describe, expect, test } from "vitest";
import { found, seeSvg, svg } from "./support/pen.ts";

const one = (body: string) => seeSvg(svg(body));
const boundsOf = (body: string) => {
  const { min, max } = one(body).drawing.bounds;
  return [min.x, min.y, max.x, max.y].map((v) => Math.round(v * 1e6) / 1e6);
};

describe("shapes", () => {
  const ellipse = (a: number, b: number) => Math.PI * a * b;
  test.each([
    ["rect", '<rect x="5" y="10" width="40" height="20"/>', 800],
    ["rect with rx", '<rect width="40" height="20" rx="4"/>', 800 - (4 - Math.PI) * 16],
    ["rect with ry alone", '<rect width="40" height="20" ry="4"/>', 800 - (4 - Math.PI) * 16],
    [
      "rect with radii too large",
      '<rect width="40" height="20" rx="90" ry="90"/>',
      ellipse(20, 10),
    ],
    [
      "rect with rx auto",
      '<rect width="40" height="20" rx="auto" ry="4"/>',
      800 - (4 - Math.PI) * 16,
    ],
    ["rect with a negative radius", '<rect width="40" height="20" rx="-4"/>', 800],
    ["rect with a radius of 0", '<rect width="40" height="20" rx="0" ry="5"/>', 800],
    ["rect in percent", '<rect width="40%" height="50%"/>', 40 * 30],
    ["rect in other units", '<rect width="0.5in" height="36pt"/>', 48 * 48],
    ["circle", '<circle cx="20" cy="20" r="5"/>', 25 * Math.PI],
    ["ellipse", '<ellipse cx="20" cy="20" rx="10" ry="5"/>', ellipse(10, 5)],
    ["polygon", '<polygon points="0,0 10,0 10 10,0,10"/>', 100],
    ["polygon of glued numbers", '<polygon points="0-5 10-5 10 5-0 5"/>', 100],
    ["polygon with one number too many", '<polygon points="0,0 10,0 10,10 0,10 7"/>', 100],
    ["polyline that ends where it began", '<polyline points="0,0 10,0 10,10 0,10 0,0"/>', 100],
    [
      "four lines",
      '<line x2="10"/><line x1="10" x2="10" y2="10"/><line x1="10" y1="10" y2="10"/><line y1="10"/>',
      100,
    ],
  ])("%s", (_, body, area) => {
    const s = one(body);
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([1, 0]);
    expect(s.area).toBeCloseTo(area, 2);
  });

  test.each([
    "<circle r='0'/>",
    "<rect width='10'/>",
    "<rect width='-3' height='5'/>",
    "<path d=''/>",
    "<polygon points='1'/>",
  ])("%s draws nothing", (body) => {
    const s = one(body);
    expect(s.codes).toEqual(["nothing-drawn"]);
    expect(s.drawing.ignored).toMatchObject([{ count: 1, why: "no size" }]);
  });
});

describe("paths", () => {
  test.each([
    ["absolute", "M0 0L10 0L10 10L0 10Z", 100],
    ["relative", "m0 0l10 0l0 10l-10 0z", 100],
    ["h and v, glued", "M0,0h10v10H0z", 100],
    ["implicit lines after a move", "m0 0 10 0 0 10-10 0z", 100],
    ["numbers without blanks", "M.5.5l9.5 0 0 9.5-9.5 0z", 90.25],
    ["exponents", "M0 0 1e1 0 1e1 1.0E+1 0 10z", 100],
    ["two loops", "M0 0h10v10h-10zm20 0h10v10h-10z", 200],
    ["a relative command after z", "M20 20h10v10h-10zl0-10 10 0z", 150],
    ["a cubic that is a line", "M0 0C3 0 7 0 10 0V10H0z", 100],
    ["a quadratic", "M0 0Q5 10 10 0z", 100 / 3],
    ["smooth quadratics", "M0 0Q5 10 10 0T20 0z", 0],
    ["a smooth cubic", "M0 0C0 10 10 10 10 0S20-10 20 0z", 0],
    ["half circles", "M0 0A5 5 0 0 1 10 0A5 5 0 0 1 0 0", 25 * Math.PI],
    ["glued flags", "M0 0a5 5 0 0110 0a5 5 0 01-10 0", 25 * Math.PI],
    ["glued flags and points", "M0 0a5,5,0,01.1e2.0a5 5 0 1 1-10 0", 25 * Math.PI],
    ["radii too small", "M0 0A1 1 0 0 1 10 0z", 12.5 * Math.PI],
    ["negative radii", "M0 0A-5-5 0 0 1 10 0z", 12.5 * Math.PI],
    ["an arc without radius is a line", "M0 0A0 5 0 0 1 10 0V10H0z", 100],
    ["an arc to where it begins is nothing", "M0 0A5 5 0 1 1 0 0L10 0V10H0z", 100],
    ["the large arc", "M0 0A5 5 0 1 1 5 5z", 25 * Math.PI * 0.75 + 12.5],
    ["a turned ellipse", "M0 0A10 5 90 0 1 10 0A10 5 90 0 1 0 0", 50 * Math.PI],
  ])("%s", (_, d, area) => {
    const s = one(`<path transform="translate(40 30)" d="${d}"/>`);
    const flips = s.plates.reduce((sum, p) => sum + p.area, 0);
    expect(s.drawing.openChains).toEqual([]);
    // Loops of no net area cross themselves, which is another matter.
    if (area > 0) expect(flips).toBeCloseTo(area, 2);
    else expect(s.codes).toContain("self-crossing");
  });

  test("without z and with a gap stays open", () => {
    const s = one('<path d="M0 0H30V20H0V10"/>');
    expect(s.drawing.openChains).toMatchObject([{ gap: 10 }]);
  });

  test("that stops making sense is read up to there, and told", () => {
    const s = one('<rect width="9" height="9"/><path d="M20 0H30V10H20Z M40 0 L x"/>');
    expect(s.area).toBeCloseTo(181, 6);
    expect(found(s, "path-broken").severity).toBe("stop");
  });
});

describe("transforms", () => {
  const quarter = '<path d="M0 0H10A10 10 0 0 1 0 10z"';
  test.each([
    ["translate", "translate(10 20)", [10, 30, 20, 40]],
    ["translate by one number", "translate(10)", [10, 50, 20, 60]],
    ["scale", "scale(2)", [0, 40, 20, 60]],
    ["a mirror", "translate(50 0) scale(-1 1)", [40, 50, 50, 60]],
    ["a turn", "translate(30 0) rotate(90)", [20, 50, 30, 60]],
    ["a turn about a point", "rotate(180 10 10)", [10, 40, 20, 50]],
    ["a matrix", "matrix(0 1 -1 0 30 0)", [20, 50, 30, 60]],
    ["a list, the last first", "translate(10,0)scale(2)translate(5 5)", [20, 30, 40, 50]],
  ])("%s", (_, transform, bounds) => {
    expect(boundsOf(`${quarter} transform="${transform}"/>`)).toEqual(bounds);
    expect(boundsOf(`<g transform="${transform}">${quarter}/></g>`)).toEqual(bounds);
  });

  test("mirrored and sheared arcs keep their area times the determinant", () => {
    for (const [transform, k] of [
      ["scale(-1 1) translate(-50 0)", 1],
      ["matrix(1 0 .5 2 0 0)", 2],
      ["skewX(30)", 1],
    ] as const) {
      expect(one(`${quarter} transform="${transform}"/>`).area).toBeCloseTo(25 * Math.PI * k, 2);
    }
  });

  test("even scales keep circles circles, uneven ones do not", () => {
    const plate = '<rect width="60" height="40"/>';
    const hole = '<circle cx="5" cy="5" r="2"';
    expect(one(`${plate}${hole} transform="rotate(33 9 9) scale(2)"/>`).diameters).toEqual([
      expect.closeTo(8, 6),
    ]);
    expect(one(`${plate}${hole} transform="scale(2 3)"/>`).diameters).toEqual([]);
  });

  test("one that is not known stops", () => {
    expect(
      found(one('<rect width="9" height="9" transform="perspective(3)"/>'), "transform-unread")
        .severity,
    ).toBe("stop");
  });
});

describe("structure", () => {
  test("defs, symbols, clips and markers draw nothing by themselves", () => {
    const s = one(
      `<defs><rect id="r" width="5" height="5"/></defs><symbol id="s"><rect width="5" height="5"/></symbol>
       <clipPath id="c"><rect width="5" height="5"/></clipPath><marker><path d="M0 0h9v9z"/></marker>
       <rect x="20" y="20" width="10" height="10"/>`,
    );
    expect(s.area).toBe(100);
  });

  test("use: its own transform, then x and y, then the target's", () => {
    expect(
      boundsOf(
        `<defs><g id="g" transform="translate(1 2)"><rect width="4" height="3"/></g></defs>
         <use xlink:href="#g" x="10" y="5" transform="scale(2)"/>`,
      ),
    ).toEqual([22, 40, 30, 46]);
    expect(boundsOf('<defs><circle id="c" r="2"/></defs><use href="#c" x="30" y="30"/>')).toEqual([
      28, 28, 32, 32,
    ]);
  });

  test("use of a symbol with a view box, and nested pages", () => {
    expect(
      boundsOf(
        '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" x="5" y="5" width="20" height="20"/>',
      ),
    ).toEqual([5, 35, 25, 55]);
    expect(
      boundsOf(
        '<svg x="10" y="10" width="40" height="20" viewBox="0 0 80 40"><rect width="80" height="40"/></svg>',
      ),
    ).toEqual([10, 30, 50, 50]);
  });

  test("use of itself, or of nothing, is told", () => {
    const s = one('<rect width="9" height="9"/><g id="a"><use href="#a"/></g><use href="#none"/>');
    expect(s.codes).toEqual(["use-left-out", "use-left-out"]);
  });

  test("use that multiplies without end ends", () => {
    const levels = Array.from(
      { length: 30 },
      (_, i) =>
        `<g id="l${i}">${i === 0 ? '<rect width="1" height="1"/>' : `<use href="#l${i - 1}"/><use href="#l${i - 1}"/>`}</g>`,
    );
    const s = one(`<defs>${levels.join("")}</defs><use href="#l29"/>`);
    expect(s.codes.length).toBeGreaterThan(0);
  });

  test("prefixes of the namespace", () => {
    const s = seeSvg(
      '<s:svg xmlns:s="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><s:g><s:rect width="9" height="9"/></s:g></s:svg>',
    );
    expect(s.area).toBe(81);
  });

  test("layers are the labels of groups, and can be named in the job", () => {
    const drawn = svg(
      '<g xmlns:own="urn:x" own:label="Cut"><rect width="30" height="30"/></g><g id="notes"><circle cx="9" cy="9" r="3"/></g>',
    );
    expect(seeSvg(drawn).drawing.loops.map((l) => l.layer)).toEqual(["Cut", "notes"]);
    expect(seeSvg(drawn, { ignoreLayers: ["Notes"] }).holes).toBe(0);
    expect(seeSvg(drawn, { cutLayers: ["cut"] }).holes).toBe(0);
  });

  test("texts and pictures are counted, not cut", () => {
    const s = one(
      '<rect width="30" height="30"/><text x="3">x</text><image width="9" height="9"/>',
    );
    expect(s.drawing.ignored.map((i) => i.type)).toEqual(["text", "image"]);
  });
});

describe("hidden", () => {
  test.each([
    ['<circle cx="9" cy="9" r="3" display="none"/>'],
    ['<circle cx="9" cy="9" r="3" style="display:none"/>'],
    ['<g style="display: none !important"><circle cx="9" cy="9" r="3"/></g>'],
    ['<circle cx="9" cy="9" r="3" visibility="hidden"/>'],
    ['<g visibility="hidden"><circle cx="9" cy="9" r="3"/></g>'],
    ['<circle cx="9" cy="9" r="3" opacity="0"/>'],
    ['<circle cx="9" cy="9" r="3" fill="none" stroke="none"/>'],
    ['<style>.off{display:none}</style><circle cx="9" cy="9" r="3" class="a off"/>'],
  ])("%s", (body) => {
    const s = one(`<rect width="30" height="30"/>${body}`);
    expect([s.holes, s.codes]).toEqual([0, ["layer-hidden"]]);
    expect(s.drawing.ignored).toMatchObject([{ type: "circle", count: 1, why: "hidden" }]);
  });

  test("shown again within", () => {
    const s = one(
      '<rect width="30" height="30"/><g visibility="hidden"><circle cx="9" cy="9" r="3" visibility="visible"/></g>',
    );
    expect(s.holes).toBe(1);
  });

  test("clips are told", () => {
    const s = one('<rect width="30" height="30" clip-path="url(#c)"/>');
    expect([s.area, s.codes]).toEqual([900, ["clip-ignored"]]);
  });
});

describe("damage", () => {
  test("text that is no XML is read up to there, and stops", () => {
    const s = seeSvg(svg('<rect width="30" height="30"/><circle cx=9 r="3"').slice(0, -6));
    expect(s.area).toBe(900);
    expect(found(s, "xml-broken").severity).toBe("stop");
  });

  test("encodings that XML names", () => {
    const body = svg('<g id="@"><rect width="9" height="9"/></g>');
    const [a, b] = `<?xml version="1.0" encoding="ISO-8859-1"?>${body}`.split("@") as [
      string,
      string,
    ];
    const bytes = [...a]
      .map((c) => c.charCodeAt(0))
      .concat(0xfc, ...[...b].map((c) => c.charCodeAt(0)));
    expect(seeSvg(Uint8Array.from(bytes)).drawing.loops[0]?.layer).toBe("ü");
  });

  test("entities do not multiply", () => {
    const bomb = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>';
    const s = seeSvg(bomb + svg('<rect width="9" height="9"/><text>&b;</text>'));
    expect(s.area).toBe(81);
  });
});
