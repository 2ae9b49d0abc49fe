// `npm run truth -- 200`: analyses invented fields whose truth is known and prints how often the tool is right.
// The number says how many fields with 150 counts; a fifth as many are counted densely. `--dense 40` and
// `--sparse 100` set either one, `--tuning` takes the seeds the tool may be adjusted on, `--detail` prints each field.
import { parseArgs } from "node:util";
import { runnerImport } from "vite";
import { root } from "../../.ci/set-up.mjs";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sparse: { type: "string" },
    dense: { type: "string" },
    tuning: { type: "boolean", default: false },
    detail: { type: "boolean", default: false },
  },
});
const asked = Number(positionals[0] ?? 200);
const counts = {
  "150 counts": Number(values.sparse ?? asked),
  dense: Number(values.dense ?? Math.round(asked / 5)),
};
if (!Object.values(counts).every((count) => Number.isInteger(count) && count >= 0)) {
  process.stderr.write("Say how many fields as a whole number: npm run truth -- 200\n");
  process.exit(2);
}
const { module } = await runnerImport("./tests/truth/measure.ts", { root });
for (const [counting, count] of Object.entries(counts)) {
  if (count === 0) continue;
  const text = await module.measure(values.tuning ? "tuning" : "judging", counting, count, (field, done) => {
    if (process.stderr.isTTY) process.stderr.write(`\r${counting}: ${done} of ${count} fields`);
    if (values.detail) process.stdout.write(`${JSON.stringify(field)}\n`);
  });
  if (process.stderr.isTTY) process.stderr.write("\r\x1b[K");
  process.stdout.write(`${text}\n`);
}
