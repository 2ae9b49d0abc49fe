/**
 * Three builds from web/: the page (`vite build`, into dist/web) and two templates, each one file with everything in it:
 * the report (`vite build --mode report`, dist/report/report.html) and the season's page (`--mode season`,
 * dist/season/season.html).
 */
import { existsSync } from "node:fs";
import { cp } from "node:fs/promises";
import { resolve } from "node:path";
import { defineConfig, type Plugin, type UserConfig } from "vite";
import { oneFile } from "./web/report/one-file.ts";

const SAMPLE = resolve("sample-data/larkspur-draw");

/** Puts the invented sample field beside the page, where the page's "Open the sample" looks for it. */
function sampleBesidePage(outDir: string): Plugin {
  return {
    name: "sample-beside-page",
    async closeBundle() {
      if (existsSync(SAMPLE)) await cp(SAMPLE, resolve(outDir, "sample"), { recursive: true });
    },
  };
}

function pageBuild(): UserConfig {
  const outDir = resolve("dist/web");
  return {
    root: "web",
    base: "./",
    build: { outDir, emptyOutDir: true, target: "es2022", assetsInlineLimit: 0 },
    worker: { format: "es" },
    plugins: [sampleBesidePage(outDir)],
  };
}

/** A template of one file: the HTML of the name's folder, with script, style and letters in it. */
function templateBuild(name: "report" | "season"): UserConfig {
  return {
    root: `web/${name}`,
    base: "./",
    publicDir: false,
    build: {
      outDir: resolve(`dist/${name}`),
      emptyOutDir: true,
      target: "es2022",
      cssCodeSplit: false,
      modulePreload: false,
      assetsInlineLimit: Number.MAX_SAFE_INTEGER,
      chunkSizeWarningLimit: 4000,
      rolldownOptions: { input: resolve(`web/${name}/${name}.html`), output: { codeSplitting: false } },
    },
    plugins: [oneFile()],
  };
}

export default defineConfig(({ mode }) =>
  mode === "report" || mode === "season" ? templateBuild(mode) : pageBuild(),
);
