import { expect, test } from "vitest";
import { parse } from "yaml";
import { jsonSchemaOf, type SchemaNode } from "../../src/core/job/json-schema.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { besideJobs, jobText } from "./read-fixture.ts";

const schema = jsonSchemaOf("job");

/** `npm run schema` writes it anew. */
test("docs/job.schema.json is up to date", async () => {
  await expect(`${JSON.stringify(schema, null, 2)}\n`).toMatchFileSnapshot(
    "../../docs/job.schema.json",
  );
});

function* objects(node: SchemaNode, path: string): Generator<[string, SchemaNode]> {
  if (node.type === "object") yield [path, node];
  for (const [key, child] of Object.entries(node.properties ?? {}))
    yield* objects(child, `${path}.${key}`);
  for (const child of [...(node.prefixItems ?? []), ...(node.anyOf ?? [])])
    yield* objects(child, path);
  if (typeof node.items === "object") yield* objects(node.items, `${path}[]`);
}

test("every group of keys is closed, and every key says what it is", () => {
  const all = [...objects(schema, "job")];
  expect(all.length).toBeGreaterThan(12);
  for (const [path, node] of all) {
    expect(node.additionalProperties, path).not.toBe(true);
    expect(node.additionalProperties, path).toBeDefined();
    for (const [key, child] of Object.entries(node.properties ?? {})) {
      expect(child.description, `${path}.${key}`).toBeTruthy();
    }
  }
});

/** The defaults that the schema states, filled into the least job, by the test's own walk. */
function filled(node: SchemaNode & { default?: unknown }, value: unknown): unknown {
  if (value === undefined)
    return node.default === undefined ? undefined : filled(node, node.default);
  if (node.type === "array" && typeof node.items === "object") {
    return (value as unknown[]).map((item) => filled(node.items as SchemaNode, item));
  }
  const variant = (node.anyOf ?? [node]).find(
    (n) => n.type === "object" && n.properties !== undefined,
  );
  if (variant?.properties === undefined || typeof value !== "object") return value;
  const out: Record<string, unknown> = {};
  for (const [key, child] of Object.entries(variant.properties)) {
    const full = filled(child, (value as Record<string, unknown>)[key]);
    if (full !== undefined) out[key] = full;
  }
  return out;
}

test("the defaults that it states are those that are used", () => {
  const text = jobText("least.yaml");
  const whole = filled(schema, parse(text));
  const explicit = parseJob({ name: "least.yaml", text: JSON.stringify(whole) }, besideJobs);
  const implicit = parseJob({ name: "least.yaml", text }, besideJobs);
  expect(explicit.findings).toEqual([]);
  const plain = (job: unknown) =>
    JSON.parse(JSON.stringify(job, (key, value) => (/place$/i.test(key) ? undefined : value)));
  expect(plain(explicit.value)).toEqual(plain(implicit.value));
  expect(JSON.stringify(whole)).toContain('"throughDepth":0.25');
});
