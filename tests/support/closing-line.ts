import type { Reporter, TestModule } from "vitest/node";

/** Counts as vitest's last line: "N passed, N failed" with ", N skipped" where there are any. */
export function closingLine(passed: number, failed: number, skipped: number): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`;
}

/** Ends the run's output with one plain line of counts, so that a script (or a person) can read it. */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandledErrors.length;
    let skipped = 0;
    for (const module of modules) {
      const before = failed;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === "passed") passed++;
        else if (state === "failed") failed++;
        else skipped++;
      }
      // A file that could not be loaded, or whose set-up failed, has no failed test of its own.
      if (failed === before && module.state() === "failed") failed++;
    }
    // After vitest's own summary, which is printed in the same turn.
    setImmediate(() => process.stdout.write(`${closingLine(passed, failed, skipped)}\n`));
  }
}
