// `npm run pictures`: takes the pictures of README.md anew, from the page with the sample field open.
import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { buildWhereStale, installChromium, root } from "./set-up.mjs";

const folder = join(root, "docs", "images");
const executablePath = installChromium();
if (!executablePath || !buildWhereStale()) process.exit(1);
mkdirSync(folder, { recursive: true });

const command = join(root, "dist/src/cli/main.js");
const server = spawn(process.execPath, [command, "open", join(root, "sample-data/larkspur-draw")], {
  stdio: ["ignore", "pipe", "inherit"],
});
const address = await new Promise((resolve) => {
  server.stdout.on("data", (text) => resolve(String(text).trim()));
});
const browser = await chromium.launch({
  executablePath,
  args: [
    "--no-sandbox",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-gpu-compositing",
  ],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(address);
  await page.locator(".entries .entry").first().waitFor({ timeout: 180_000 });
  await page.locator(".map-pane canvas").first().waitFor();
  // The map draws on after its canvas is there; software rendering needs a while.
  await page.waitForTimeout(8000);
  await page.screenshot({ path: join(folder, "map.png") });
  await page.locator(".entries .entry-button").first().click();
  await page.waitForTimeout(4000);
  await page.screenshot({ path: join(folder, "findings.png") });
} finally {
  await browser.close();
  server.kill();
}
