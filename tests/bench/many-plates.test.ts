/** The made jobs are what the benchmark says they are; otherwise its figures are of something else. */
import { expect, test } from "vitest";
import { parseJob } from "../../src/core/job/parse.ts";
import { gather } from "../../src/core/job/planning/gather.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import { FEATURES_EACH, manyPlates } from "./many-plates.ts";
import { interleaved, spread } from "./numbers.ts";

function gathered(files: ReadonlyMap<string, string>) {
  const read = (name: string) => new TextEncoder().encode(files.get(name) ?? "");
  const text = files.get("job.yaml") ?? "";
  const { value: job, findings } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return { job, ...gather(job, read) };
}

test.each([
  [10, 1],
  [40, 1],
  [40, 2],
  [160, 1],
])("%i plates on %i sheets: all fit, with fifteen features each", (plates, sheets) => {
  const { orders, sheets: stock, findings } = gathered(manyPlates({ plates, sheets, seed: 1 }));
  expect(findings.filter((f) => f.severity !== "note")).toEqual([]);
  expect(orders.reduce((sum, o) => sum + o.count, 0)).toBe(plates);
  for (const { plate } of orders) expect(plate.features).toHaveLength(FEATURES_EACH);
  const { value: layouts, findings: laid } = layPlates({
    sheets: stock,
    plates: orders,
    widestCutter: 2,
  });
  expect(laid.filter((f) => f.severity === "stop")).toEqual([]);
  const counts = layouts.map((l) => l.placements.length);
  expect(counts).toEqual(Array<number>(sheets).fill(plates / sheets));
});

test("the seed alone decides", () => {
  const job = (seed: number) => [...manyPlates({ plates: 8, sheets: 1, seed })];
  expect(job(3)).toEqual(job(3));
  expect(job(3)).not.toEqual(job(4));
});

test("contenders take turns", () => {
  const order: string[] = [];
  const run = (name: string) => () => order.push(name);
  interleaved({ a: run("a"), b: run("b") }, 3);
  expect(order.join("")).toBe("ababab");
});

test("median and range", () => {
  expect(spread([3, 1, 2])).toEqual({ median: 2, least: 1, most: 3 });
  expect(spread([4, 1, 2, 3])).toEqual({ median: 2.5, least: 1, most: 4 });
});
