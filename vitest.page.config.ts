import { defineConfig } from "vitest/config";

/** Tests in a browser. One at a time: each drives a browser that wants both cores. */
export default defineConfig({
  test: {
    include: ["tests/page/**/*.test.ts"],
    globalSetup: ["tests/support/compiled-cli.setup.ts"],
    setupFiles: ["tests/support/fast-check.setup.ts"],
    reporters: ["default", "tests/support/plain-reporter.ts"],
    // Ends what hangs. No test is timed.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    pool: "forks",
    fileParallelism: false,
  },
});
