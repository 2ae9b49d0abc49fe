/** The report of the sample field as the command writes it: its size, and that it needs nobody. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  drawn,
  launch,
  mapErrors,
  mapSettled,
  PHONE,
  picture,
  watchedPage,
} from "./support/browser.ts";
import { ROOT, SAMPLE } from "./support/servers.ts";

/** 3.2 MB, a megabyte being 1,000,000 bytes; a tenth of one is its texts in two more languages. */
const MOST_BYTES = 3_200_000;

it("is under 3.2 MB, opens from the disk with the network cut, and asks nobody for anything", async () => {
  const out = join(mkdtempSync(join(tmpdir(), "evenstand-sample-")), "out");
  const command = join(ROOT, "dist/src/cli/main.js");
  const run = spawnSync(process.execPath, [command, "analyse", SAMPLE, "--out", out], { encoding: "utf8" });
  expect(run.status, run.stderr).toBe(0);
  const report = join(out, "report.html");
  expect(statSync(report).size).toBeLessThan(MOST_BYTES);
  const browser = await launch();
  const watched = await watchedPage(browser, DESK);
  const asked: string[] = [];
  const address = pathToFileURL(report).href;
  watched.page.on("request", (request) => {
    if (request.url() !== address && !/^(data|blob):/.test(request.url())) asked.push(request.url());
  });
  try {
    await watched.context.setOffline(true);
    await watched.page.goto(address);
    await mapSettled(watched.page);
    expect((await drawn(watched.page, "pass-threads", "pass")).length).toBeGreaterThan(20);
    expect(await violations(watched.page)).toEqual([]);
    await picture(watched.page, "sample-report");
    await watched.page.setViewportSize(PHONE);
    // Tables may scroll sideways; sentences keep to the screen.
    const rightEdges = await watched.page
      .locator(".stand-money :is(section > p, li, .caution)")
      .evaluateAll((blocks) => blocks.map((block) => block.getBoundingClientRect().right));
    expect(rightEdges.length).toBeGreaterThan(20);
    expect(Math.max(...rightEdges)).toBeLessThanOrEqual(PHONE.width);
    await picture(watched.page, "sample-report-phone");
    expect(await mapErrors(watched.page)).toEqual([]);
    expect(asked).toEqual([]);
    expect(watched.complaints).toEqual([]);
  } finally {
    await browser.close();
  }
});
