// `node tests/bench/page-times.mjs [records]`: how soon the page answers, beside a map alone as the floor. Prints; asserts nothing.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { loadavg } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { buildWhereStale, installChromium, root } from "../../.ci/set-up.mjs";
import { largeField } from "./page-measure.mjs";

const records = Number(process.argv[2] ?? 200_000);
const PATIENCE_MS = 600_000;
const executablePath = installChromium();
if (!executablePath || !buildWhereStale()) process.exit(1);
const command = join(root, "dist/src/cli/main.js");

/** The command's own server, with the sample field or with none. */
async function served(...field) {
  const child = spawn(process.execPath, [command, "open", ...field], { stdio: ["ignore", "pipe", "ignore"] });
  const address = await new Promise((resolve) => {
    child.stdout.on("data", (text) => resolve(String(text).trim()));
  });
  return { address, close: () => child.kill() };
}

/** A page with nothing but a map of as many layers, all of them empty. */
async function emptyMap(layers) {
  const page = `<!doctype html><style>html,body,#map{height:100%;margin:0}</style><div id="map"></div>
<script type="module">
import { Map, setWorkerUrl } from "/maplibre-gl.mjs";
setWorkerUrl("/maplibre-gl-worker.mjs");
const source = { type: "geojson", data: { type: "FeatureCollection", features: [] } };
const layers = Array.from({ length: ${layers} }, (_, k) => ({ id: "l" + k, type: "line", source: "nothing" }));
const map = new Map({ container: "map", style: { version: 8, sources: { nothing: source }, layers }, fadeDuration: 0 });
map.once("idle", () => { window.still = true; });
</script>`;
  const server = createServer((request, response) => {
    const name = request.url.slice(1);
    response.setHeader("Content-Type", name === "" ? "text/html" : "text/javascript");
    response.end(
      /^maplibre-gl[a-z-]*\.mjs$/.test(name)
        ? readFileSync(join(root, "node_modules/maplibre-gl/dist", name))
        : page,
    );
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  return { address: `http://127.0.0.1:${server.address().port}/`, close: () => server.close() };
}

const shown = (page, test) => page.waitForFunction(test, null, { timeout: PATIENCE_MS, polling: 50 });
const hasLedger = () => document.querySelector(".entry-title") !== null;
const hasLoads = () =>
  document.querySelector(".entry-title") !== null &&
  !document.querySelector(".ledger").textContent.includes("is being worked out");
const isStill = () => {
  const map = window.evenstandMap;
  return Boolean(map?.getLayer("planted-ground") && map.loaded() && !map.isMoving());
};

const seconds = (from) => (performance.now() - from) / 1000;

async function fresh(browser) {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    reducedMotion: "reduce",
  });
  return { page: await context.newPage(), close: () => context.close() };
}

/** From the moment `begin` is called to the ledger, to the loads in it, and to a map that lies still. */
async function answered(page, begin) {
  const from = performance.now();
  await begin();
  await shown(page, hasLedger);
  const ledger = seconds(from);
  await shown(page, hasLoads);
  const loads = seconds(from);
  await shown(page, isStill);
  return { ledger, loads, still: seconds(from) };
}

const field = largeField(join(root, "out", "bench", `page-${records}`), records);
const [sample, empty] = [await served(join(root, "sample-data/larkspur-draw")), await served()];
const browser = await chromium.launch({
  executablePath,
  args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
});
try {
  let one = await fresh(browser);
  const first = await answered(one.page, () => one.page.goto(sample.address));
  const layers = await one.page.evaluate(() => window.evenstandMap.getStyle().layers.length);
  await one.close();
  one = await fresh(browser);
  await one.page.goto(empty.address);
  const chooser = one.page.locator('input[type="file"]').first();
  await chooser.waitFor({ state: "attached" });
  const large = await answered(one.page, () => chooser.setInputFiles(field.files));
  await one.close();
  const alone = await emptyMap(layers);
  one = await fresh(browser);
  const from = performance.now();
  await one.page.goto(alone.address);
  await shown(one.page, () => window.still === true);
  const floor = seconds(from);
  await one.close();
  alone.close();
  const line = (said, figure, aim = "") =>
    `  ${said.padEnd(46)}${figure.toFixed(1).padStart(6)} s${aim && `  (aim ${aim} s)`}\n`;
  process.stdout.write(
    `load of the machine ${loadavg()[0].toFixed(1)}\n` +
      line("sample field, to the ledger", first.ledger, "3") +
      line("sample field, to the loads in the ledger", first.loads) +
      line("sample field, to a still map", first.still, "5") +
      line(`${records.toLocaleString("en-US")} records chosen, to the ledger`, large.ledger, "8") +
      line(`${records.toLocaleString("en-US")} records chosen, to a still map`, large.still) +
      line(`floor: an empty map of ${layers} layers, to still`, floor),
  );
} finally {
  await browser.close();
  sample.close();
  empty.close();
}
