/** The page without a field: one server and one browser for a whole file of tests, the page opened anew by each. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import type { RunningServer } from "../../../src/cli/browser/server.ts";
import { DESK, launch, type WatchedPage, watchedPage } from "./browser.ts";
import { serveNoField } from "./servers.ts";

/** Starts both before the tests of the file that calls it and stops them after. @returns how to open the page. */
export function emptyPages(): (viewport?: { width: number; height: number }) => Promise<WatchedPage> {
  let browser: Browser;
  let server: RunningServer;
  beforeAll(async () => {
    server = await serveNoField();
    browser = await launch();
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });
  return async (viewport = DESK) => {
    const watched = await watchedPage(browser, viewport);
    await watched.page.goto(server.address);
    await watched.page.getByRole("button", { name: "Choose files" }).waitFor();
    return watched;
  };
}
