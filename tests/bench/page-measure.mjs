// Measures the page with a large log: time to the map and to the ledger, memory, and our own script while panning.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { MANIFEST, writeShapefile, writeSoilMap } from "./invented-log.mjs";

const PATIENCE_MS = 600_000;

/** Writes the field where it is not there yet. @returns its folder and the paths of its files. */
export function largeField(folder, records) {
  mkdirSync(folder, { recursive: true });
  const names = ["field.json", "log.shp", "log.shx", "log.dbf", "log.prj", "soil.geojson"];
  const files = names.map((name) => join(folder, name));
  if (!files.every((file) => existsSync(file))) {
    writeShapefile(join(folder, "log"), records);
    writeSoilMap(join(folder, "soil.geojson"), records);
    const manifest = {
      name: `Invented log of ${records} records`,
      ...MANIFEST,
      plantingLog: { file: "log.shp" },
      soilZones: { file: "soil.geojson", zone: "MUNAME" },
    };
    writeFileSync(files[0], `${JSON.stringify(manifest, null, 2)}\n`);
  }
  return { folder, files };
}

/** Wall time of `evenstand analyse` on the field, seconds. */
export function commandSeconds(command, field, out) {
  const started = performance.now();
  const run = spawnSync(process.execPath, [command, "analyse", field.folder, "--out", out], {
    encoding: "utf8",
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return (performance.now() - started) / 1000;
}

/**
 * Opens the field on a page of a browser that has no other.
 * @returns seconds from the files chosen to the map with soils and boundary, and to the whole answer on it, passes too; the largest memory
 * of the page's process, MiB; the longest run of script without a break while the map is moved, milliseconds.
 */
export async function pageFigures(browser, address, field) {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  await page.goto(address);
  await page.getByRole("button", { name: "Choose files" }).waitFor();
  const started = performance.now();
  await page.locator('input[type="file"]').setInputFiles(field.files);
  const loaded = () =>
    page.evaluate(() =>
      Boolean(window.evenstandMap?.loaded() && window.evenstandMap.getLayer("planted-ground")),
    );
  await until(loaded);
  const mapSeconds = (performance.now() - started) / 1000;
  await page.locator(".ledger").or(page.getByRole("alert")).first().waitFor({ timeout: PATIENCE_MS });
  if (await page.getByRole("alert").count()) throw new Error(await page.getByRole("alert").textContent());
  await until(loaded);
  const wholeSeconds = (performance.now() - started) / 1000;
  const memoryMiB = await pageMemoryMiB(browser);
  // A machine busy with other work only ever adds: the quietest of three.
  const pans = [];
  for (let i = 0; i < 3; i++) pans.push(await longestScriptMs(context, page));
  const panningMs = Math.min(...pans);
  await context.close();
  return { mapSeconds, wholeSeconds, memoryMiB, panningMs };
}

async function until(met) {
  const patience = performance.now() + PATIENCE_MS;
  while (!(await met())) {
    if (performance.now() > patience) throw new Error("the map is not drawn in time");
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** Largest resident memory of the largest page process so far; null where the system does not tell. */
async function pageMemoryMiB(browser) {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  const peaks = processInfo
    .filter(({ type }) => type === "renderer")
    .map(({ id }) => {
      const status = `/proc/${id}/status`;
      const peak = existsSync(status) && /VmHWM:\s+(\d+) kB/.exec(readFileSync(status, "utf8"));
      return peak ? Number(peak[1]) / 1024 : 0;
    });
  const largest = Math.max(...peaks);
  return largest > 0 ? largest : null;
}

/** The browser's own waits (drawing by the processor, "(program)") are no script and end a run. */
async function longestScriptMs(context, page) {
  const session = await context.newCDPSession(page);
  await session.send("Profiler.enable");
  await session.send("Profiler.setSamplingInterval", { interval: 500 });
  const box = await page.locator(".maplibregl-canvas").boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await session.send("Profiler.start");
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= 20; step++) await page.mouse.move(x + step * 6, y + step * 3);
  await page.mouse.up();
  const { profile } = await session.send("Profiler.stop");
  await session.detach();
  const names = new Map(profile.nodes.map(({ id, callFrame }) => [id, callFrame.functionName]));
  let [longest, run] = [0, 0];
  profile.samples.forEach((id, i) => {
    const name = names.get(id);
    run = ["(program)", "(idle)", "(root)", "(garbage collector)"].includes(name)
      ? 0
      : run + profile.timeDeltas[i] / 1000;
    longest = Math.max(longest, run);
  });
  return longest;
}
