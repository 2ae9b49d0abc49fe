// `node tests/bench/season.mjs [fields]`: processor time and memory of joining a season, on copies of the sample field's
// results with other row units. Needs the build.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { run } from "../../dist/src/cli/run.js";

const fields = Number(process.argv[2] ?? 10_000);
const root = fileURLToPath(new URL("../..", import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), "evenstand-season-"));
const io = {
  workingFolder: root,
  environment: {},
  out: () => {},
  err: () => {},
  outIsTerminal: false,
  errIsTerminal: false,
  columns: null,
  stop: new AbortController().signal,
};

try {
  const out = join(scratch, "out");
  const argv = ["season", "run", "sample-data/larkspur-draw", "--out", out, "--no-reports", "--workers", "1"];
  if ((await run(argv, io)) !== 0) throw new Error("the sample field could not be run");
  const plan = JSON.parse(readFileSync(join(out, "season-plan.json"), "utf8"));
  const [sample] = plan.fields;
  const folder = join(out, "fields", sample.id);
  const extract = JSON.parse(readFileSync(join(folder, "extract.json"), "utf8"));
  const result = JSON.parse(readFileSync(join(folder, "field-run.json"), "utf8"));
  let bytes = 0;
  plan.fields = Array.from({ length: fields }, (_, k) => {
    const id = `field-${String(k).padStart(6, "0")}`;
    mkdirSync(join(out, "fields", id));
    const units = extract.units.map((unit, u) => ({
      ...unit,
      departure: unit.departure * (1 + 0.1 * Math.sin(k + u)),
    }));
    const text = JSON.stringify({ ...extract, name: id, units });
    bytes += text.length;
    writeFileSync(join(out, "fields", id, "extract.json"), text);
    const own = { ...result, name: id, logSha256: id, key: id };
    writeFileSync(join(out, "fields", id, "field-run.json"), JSON.stringify(own));
    return { ...sample, id, path: id };
  });
  writeFileSync(join(out, "season-plan.json"), JSON.stringify(plan));
  const before = process.cpuUsage();
  const code = await run(["season", "merge", out], io);
  const { user, system } = process.cpuUsage(before);
  const mebibytes = process.resourceUsage().maxRSS / 1024;
  process.stdout.write(
    `${fields} fields of ${(bytes / fields / 1024).toFixed(0)} KiB joined: ${((user + system) / 1e6).toFixed(1)} s processor time, ${mebibytes.toFixed(0)} MiB at most, exit code ${code}\n`,
  );
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
