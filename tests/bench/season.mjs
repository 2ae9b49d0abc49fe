// `node tests/bench/season.mjs --fields 12 --records 20000 --join 10000`: what a season costs. Invented fields of so many
// records each are analysed one by one and as a season by one worker and by two: processor time, time, largest memory of a
// process by the number of fields. Then so many extracts, varied from those of the sample field and of the invented ones, are
// joined. `--fields 0` or `--join 0` leaves a part out. Needs the build; run it on a machine that does nothing else.
import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { MANIFEST, writeGeoJson } from "./invented-log.mjs";

const { values: asked } = parseArgs({
  options: {
    fields: { type: "string", default: "12" },
    records: { type: "string", default: "20000" },
    join: { type: "string", default: "10000" },
  },
});
const [fields, records, joined] = [asked.fields, asked.records, asked.join].map(Number);
const root = fileURLToPath(new URL("../..", import.meta.url));
const command = join(root, "dist/src/cli/main.js");
const scratch = mkdtempSync(join(tmpdir(), "evenstand-season-"));
/**
 * Holds a process and its threads to one core. Alone, a worker's compiler and garbage collector take a part of the second core
 * already, so that two workers cannot be twice as fast as one on two cores.
 */
const ONE_CORE = spawnSync("taskset", ["-c", "0", "true"]).status === 0 ? ["taskset", "-c", "0"] : null;
/** Each process of a run adds a line as it ends: processor seconds, largest memory in MiB. */
const USED = join(scratch, "used");
const MEASURE = `import { appendFileSync } from "node:fs"; process.on("exit", () => { const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage(); appendFileSync(${JSON.stringify(USED)}, (userCPUTime + systemCPUTime) / 1e6 + " " + maxRSS / 1024 + "\\n"); });`;

try {
  const load = loadavg()[0].toFixed(1);
  print(`${availableParallelism()} cores, Node.js ${process.version}; load of the machine before: ${load}\n`);
  if (fields > 0) measureRuns();
  if (joined > 0) measureJoin();
} finally {
  rmSync(scratch, { recursive: true, force: true });
}

function measureRuns() {
  const all = join(scratch, "all");
  const alone = { cpu: 0, wall: 0, peak: 0 };
  print(`| ${fields} fields of ${records} records | CPU s | s | largest process MiB |`);
  print("|---|---|---|---|");
  const folders = Array.from({ length: fields }, (_, k) => writeField(all, k + 1));
  for (const folder of folders) {
    const { cpu, wall, peak } = evenstand("analyse", folder, "--out", join(scratch, "alone"));
    alone.cpu += cpu;
    alone.wall += wall;
    alone.peak = Math.max(alone.peak, peak);
  }
  row("`analyse`, one after the other", alone);
  const runs = [1, 2].map((workers) => {
    const used = runSeason(all, workers);
    row(`season, ${workers} worker${workers === 1 ? "" : "s"}`, used);
    return used;
  });
  const held = ONE_CORE && runSeason(all, 1, ONE_CORE);
  if (held) row("season, 1 worker held to one core", held);
  for (const part of [4, 2]) {
    const few = Math.floor(fields / part);
    if (few < 1) continue;
    const some = join(scratch, `first-${few}`);
    for (let k = 0; k < few; k++) writeField(some, k + 1);
    row(`season of ${few} of them, 1 worker`, runSeason(some, 1));
  }
  const more = 100 * (runs[0].cpu / alone.cpu - 1);
  print(
    `\nSeason over \`analyse\`: ${Math.abs(more).toFixed(1)} % ${more > 0 ? "more" : "less"} processor time`,
  );
  print(`Two workers over one: ${(runs[0].wall / runs[1].wall).toFixed(2)} times as fast`);
  if (held) print(`Over one held to one core: ${(held.wall / runs[1].wall).toFixed(2)} times as fast`);
  print("");
}

function writeField(season, number, size = records) {
  const folder = join(season, `field-${String(number).padStart(4, "0")}`);
  mkdirSync(folder, { recursive: true });
  writeGeoJson(join(folder, "log.geojson"), size, number);
  const manifest = { ...MANIFEST, schema: "evenstand/field/1", plantingLog: { file: "log.geojson" } };
  writeFileSync(join(folder, "field.json"), JSON.stringify(manifest));
  return folder;
}

function runSeason(season, workers, launcher = []) {
  const out = join(scratch, "season");
  rmSync(out, { recursive: true, force: true });
  return launched(launcher, "season", "run", season, "--out", out, "--workers", String(workers));
}

/** Extracts of a few real runs, each copy with figures and a place of its own, joined. */
function measureJoin() {
  const some = join(scratch, "some");
  mkdirSync(some);
  cpSync(join(root, "sample-data/larkspur-draw"), join(some, "sample"), { recursive: true });
  for (const [k, size] of [6_000, 20_000, 60_000].entries()) writeField(some, k + 1, size);
  const out = join(scratch, "joined");
  evenstand("season", "run", some, "--out", out, "--no-reports");
  const plan = JSON.parse(readFileSync(join(out, "season-plan.json"), "utf8"));
  const sources = plan.fields.map((planned) => {
    const [extract, result] = ["extract.json", "field-run.json"].map((name) =>
      JSON.parse(readFileSync(join(out, "fields", planned.id, name), "utf8")),
    );
    return { planned, extract, result };
  });
  let bytes = 0;
  plan.fields = Array.from({ length: joined }, (_, k) => {
    // Every second one is the sample field, which has more findings than an invented one.
    const source = k % 2 === 0 ? sources.at(-1) : sources[(k >> 1) % (sources.length - 1)];
    const { planned, extract, result } = source;
    const id = `field-${String(k).padStart(6, "0")}`;
    const folder = join(out, "fields", id);
    mkdirSync(folder);
    const text = JSON.stringify({ ...varied(extract, k), name: id });
    bytes += text.length;
    writeFileSync(join(folder, "extract.json"), text);
    writeFileSync(
      join(folder, "field-run.json"),
      JSON.stringify({ ...result, name: id, logSha256: id, key: id }),
    );
    return { ...planned, id, path: id };
  });
  writeFileSync(join(out, "season-plan.json"), JSON.stringify(plan));
  const { cpu, wall, peak } = evenstand("season", "merge", out);
  const kept = JSON.parse(readFileSync(join(out, "season-findings.json"), "utf8")).fields.length;
  print(
    `${kept} of ${joined} fields of ${(bytes / joined / 1024).toFixed(0)} KiB joined: ${cpu.toFixed(1)} s processor time, ${wall.toFixed(1)} s, ${peak.toFixed(0)} MiB at most`,
  );
}

/** The same value with every figure up to a tenth more or less; whole numbers and places on the ground stay what they are. */
function varied(value, k, key = "") {
  if (key === "outline" || key === "polygons") return value;
  if (Array.isArray(value)) return value.map((member, index) => varied(member, k + 7 * index, key));
  if (value !== null && typeof value === "object") {
    const members = Object.entries(value).map(([name, member]) => [name, varied(member, k, name)]);
    return Object.fromEntries(members);
  }
  return typeof value !== "number" || Number.isInteger(value)
    ? value
    : Number((value * (1 + 0.1 * Math.sin(k))).toPrecision(6));
}

function evenstand(...words) {
  return launched([], ...words);
}

function launched(launcher, ...words) {
  rmSync(USED, { force: true });
  const [program, ...rest] = [...launcher, process.execPath, command, ...words];
  const started = performance.now();
  const { status, stderr } = spawnSync(program, rest, {
    encoding: "utf8",
    maxBuffer: 1 << 28,
    env: { ...process.env, NODE_OPTIONS: `--import "data:text/javascript,${encodeURIComponent(MEASURE)}"` },
  });
  const wall = (performance.now() - started) / 1000;
  if (status !== 0 && status !== 4) throw new Error(`${words.join(" ")}: exit code ${status}\n${stderr}`);
  const processes = readFileSync(USED, "utf8")
    .trim()
    .split("\n")
    .map((line) => line.split(" ").map(Number));
  return {
    cpu: processes.reduce((sum, [seconds]) => sum + seconds, 0),
    wall,
    peak: Math.max(...processes.map(([, mebibytes]) => mebibytes)),
  };
}

function row(title, { cpu, wall, peak }) {
  print(`| ${title} | ${cpu.toFixed(1)} | ${wall.toFixed(1)} | ${peak.toFixed(0)} |`);
}

function print(text) {
  process.stdout.write(`${text}\n`);
}
