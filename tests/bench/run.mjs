// `npm run bench`: the command by size (size.mjs), then reading (ingest.mjs) and comparing (comparison.mjs) against
// other programs (R, DuckDB, GDAL with SQLite, the shapefile library with turf), as far as they are installed. `npm run bench -- 100000 10000000` names the sizes (records).
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
process.stdout.write("\n");
runScript("ingest.mjs", sizes.length > 0 ? [Math.max(...sizes)] : []);
process.stdout.write("\n");
runScript("stand.mjs", []);
for (const size of sizes.length > 0 ? sizes : [100_000, 1_000_000]) {
  process.stdout.write("\n");
  runScript("comparison.mjs", [size]);
}

function runScript(script, words) {
  const child = spawnSync(process.execPath, [join(root, "tests", "bench", script), ...words.map(String)], {
    stdio: "inherit",
  });
  if (child.status !== 0) process.exitCode = 1;
}
