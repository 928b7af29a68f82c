import { expect, test } from "vitest";
import { checksMarkdown } from "../../src/core/check/docs.ts";
import { RULES } from "../../src/core/check/registry.ts";

/** `npx vitest run tests/check/docs.test.ts --update` writes it anew. */
test("docs/CHECKS.md is up to date", async () => {
  await expect(checksMarkdown()).toMatchFileSnapshot("../../docs/CHECKS.md");
});

test("it names every rule once, with a source for each of its limits", () => {
  const text = checksMarkdown();
  for (const rule of RULES) {
    expect(text.split(`### ${rule.code} (`).length, rule.code).toBe(2);
    for (const limit of rule.limits) expect(limit.source.length, rule.code).toBeGreaterThan(5);
  }
});
