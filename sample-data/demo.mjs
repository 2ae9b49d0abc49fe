// `npm run demo`: from a fresh clone to the findings of the invented field Larkspur Draw and its map.
// `npm run demo -- --once` prints the findings and ends without serving the map.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { buildWhereStale, installPackages, requireNode, root, runStep } from "../.ci/set-up.mjs";

requireNode();
if (!installPackages() || !buildWhereStale()) {
  process.stderr.write("The demo could not be set up: see the message above.\n");
  process.exit(1);
}
const command = join(root, "dist/src/cli/main.js");
const field = join("sample-data", "larkspur-draw");
const out = join("out", "larkspur-draw");

process.stderr.write("Larkspur Draw is an invented field: no such farm, planter or season.\n\n");
const status = runStep(process.execPath, [command, "analyse", field, "--out", out], { shell: false });
if (status !== 0) process.exit(status);
if (!process.argv.includes("--once")) {
  const server = spawn(process.execPath, [command, "open", field], { cwd: root, stdio: "inherit" });
  // Both processes get the interrupt of the terminal; the server ends by itself and this one follows it.
  process.on("SIGINT", () => {});
  process.on("SIGTERM", () => server.kill("SIGTERM"));
  server.on("close", (code) => process.exit(code ?? 0));
}
