/** report.pdf and in-short.pdf: the report, and the farmer's two pages of it, printed by an installed Chromium on A4 or Letter. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type BrowserTalk, talkToBrowser } from "../browser/browser-talk.ts";
import { CommandLineError } from "../terminal/failure.ts";

/** Inches: ISO 216 A4 is 210 x 297 mm, ANSI A (Letter) 8.5 x 11 in. */
export const PAPERS = {
  letter: { width: 8.5, height: 11 },
  a4: { width: 210 / 25.4, height: 297 / 25.4 },
} as const;
export type Paper = keyof typeof PAPERS;

const MARGIN_IN = 0.5;
/** The page number stands in the lower margin. */
const FOOT_IN = 0.65;
/** Longest wait for the map to be drawn, milliseconds. */
const PATIENCE_MS = 120_000;
const LOOK_EVERY_MS = 100;

const IS_DRAWN = `document.readyState === "complete" && document.querySelector(".ledger") !== null &&
  (document.querySelector(".map-host[data-drawn]") !== null || !!document.querySelector(".no-map"))`;

const FOOT = `<div style="font-size:8px;width:100%;padding:0 0.5in;display:flex;justify-content:space-between">
  <span class="title"></span><span><span class="pageNumber"></span> / <span class="totalPages"></span></span></div>`;

export interface PrintedReport {
  whole: Uint8Array;
  /** The farmer's sheet and the map. */
  short: Uint8Array;
}

/**
 * The report as PDF with tags and an outline.
 * @param program path of Chromium.
 * @throws {CommandLineError} where the browser does not start, breaks off or never draws the map.
 */
export async function printReport(program: string, html: string, paper: Paper): Promise<PrintedReport> {
  const folder = await mkdtemp(join(tmpdir(), "evenstand-print-"));
  const talk = talkToBrowser(program, join(folder, "profile"));
  try {
    const file = join(folder, "report.html");
    await writeFile(file, html);
    return await printed(talk, pathToFileURL(file).href, paper);
  } catch (cause) {
    throw new CommandLineError(
      `--pdf: ${program} could not print the report: ${(cause as Error).message}; without --pdf, report.html prints from any browser`,
      { value: program, cause },
    );
  } finally {
    await talk.end();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

async function printed(talk: BrowserTalk, url: string, paper: Paper): Promise<PrintedReport> {
  const { targetId } = await talk.ask("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await talk.ask("Target.attachToTarget", { targetId, flatten: true });
  const ask = (method: string, parameters: object) => talk.ask(method, parameters, sessionId as string);
  // Twice the pixels, so that the map is sharp on paper.
  const screen = { width: 1080, height: 900, deviceScaleFactor: 2, mobile: false };
  await ask("Emulation.setDeviceMetricsOverride", screen);
  await ask("Page.navigate", { url });
  await drawn(ask);
  const { width, height } = PAPERS[paper];
  const print = async (how: keyof PrintedReport) => {
    await ask("Runtime.evaluate", { expression: `document.documentElement.dataset.print = "${how}"` });
    const { data } = await ask("Page.printToPDF", {
      paperWidth: width,
      paperHeight: height,
      marginTop: MARGIN_IN,
      marginLeft: MARGIN_IN,
      marginRight: MARGIN_IN,
      marginBottom: FOOT_IN,
      printBackground: true,
      displayHeaderFooter: true,
      headerTemplate: "<span></span>",
      footerTemplate: FOOT,
      generateTaggedPDF: true,
      generateDocumentOutline: true,
    });
    return Buffer.from(data as string, "base64");
  };
  return { whole: await print("whole"), short: await print("short") };
}

async function drawn(ask: (method: string, parameters: object) => Promise<Record<string, unknown>>) {
  const until = performance.now() + PATIENCE_MS;
  while (performance.now() < until) {
    const { result } = await ask("Runtime.evaluate", { expression: IS_DRAWN, returnByValue: true });
    if ((result as { value?: unknown }).value === true) return;
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
  throw new Error("its map was not drawn in time");
}
