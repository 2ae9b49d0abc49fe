import { defineConfig } from "vitest/config";

// One time zone everywhere: dates in results must not depend on where the tests run.
process.env.TZ = "UTC";

/** The longer tests run only through `npm run test:full`, which sets this. */
const full = process.env.EVENSTAND_FULL === "1";

/** Tests that put another module in the place of one of ours, which only a worker of their own forgets again. */
const ALONE = ["tests/ingest/readers.test.ts"];

export default defineConfig({
  test: {
    reporters: ["default", "./tests/support/closing-line.ts"],
    projects: full
      ? [
          {
            test: {
              name: "full",
              include: ["tests/**/*.full.test.ts"],
              testTimeout: 600_000,
              hookTimeout: 600_000,
              fileParallelism: false,
            },
          },
        ]
      : [
          {
            test: {
              name: "unit",
              include: ["tests/**/*.test.ts"],
              exclude: ["tests/browser/**", "tests/**/*.full.test.ts", ...ALONE],
              // The library is pure: loading it once a worker, not once a file, halves the processor time.
              isolate: false,
              // Only what hangs ends by time: a busy machine is slow, not wrong.
              testTimeout: 600_000,
              hookTimeout: 600_000,
            },
          },
          { test: { name: "alone", include: [...ALONE] } },
          {
            test: {
              name: "browser",
              include: ["tests/browser/**/*.test.ts"],
              exclude: ["tests/**/*.full.test.ts"],
              // One Chromium at a time: software rendering takes a whole core.
              fileParallelism: false,
              testTimeout: 600_000,
              hookTimeout: 600_000,
              // A browser of its own beside the tests: what fails twice is broken, what fails once is said in the output.
              retry: 1,
            },
          },
        ],
  },
});
