// `npm run bench`: the command by size (size.mjs), then reading (ingest.mjs) and comparing (comparison.mjs) against
// other programs, as far as they are installed. `npm run bench -- 100000 10000000` names the sizes (records).
// Prints; asserts nothing.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { buildWhereStale, installPackages, requireNode, root } from "../../.ci/set-up.mjs";

const sizes = process.argv
  .slice(2)
  .map(Number)
  .filter((size) => Number.isInteger(size) && size > 0);

requireNode();
if (!installPackages() || !buildWhereStale()) process.exit(1);

runScript("size.mjs", sizes);
// What other programs take for the same work on this machine; a line says so where one is not installed.
for (const script of ["ingest.mjs", "comparison.mjs"]) {
  process.stdout.write("\n");
  runScript(script, sizes.length > 0 ? [Math.max(...sizes)] : []);
}

function runScript(script, words) {
  const child = spawnSync(process.execPath, [join(root, "tests", "bench", script), ...words.map(String)], {
    stdio: "inherit",
  });
  if (child.status !== 0) process.exitCode = 1;
}
