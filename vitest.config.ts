import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/page/**"],
    setupFiles: ["tests/support/fast-check.setup.ts"],
    reporters: ["default", "tests/support/plain-reporter.ts"],
    testTimeout: 20_000,
    pool: "threads",
  },
});
