import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/page/**"],
    globalSetup: ["tests/support/compiled-cli.setup.ts"],
    // Modules of core keep nothing that a test could see; loading them anew for every file takes a third of the time.
    isolate: false,
    setupFiles: ["tests/support/fast-check.setup.ts"],
    reporters: ["default", "tests/support/plain-reporter.ts"],
    // Ends what hangs. No test is timed: on a busy machine a process that takes a third of a second takes ten.
    testTimeout: 120_000,
    pool: "threads",
    // One fewer than the cores is the default, which on two cores leaves one idle.
    maxWorkers: "100%",
  },
});
