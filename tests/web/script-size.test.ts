/** What the browser has to load before the first map, and what the pages may load at all. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";

const WEB = fileURLToPath(new URL("../../dist/web/", import.meta.url));
const REPORT = fileURLToPath(new URL("../../dist/report/report.html", import.meta.url));
/** Of the page's own script, the map library in it; 1 kB is 1000 bytes. */
const MOST_BYTES = 450_000;

describe("the built page", () => {
  it("loads at most 450 kB of gzipped script before the first map, workers apart", () => {
    expect(existsSync(join(WEB, "index.html")), '"npm run build" makes it').toBe(true);
    const assets = join(WEB, "assets");
    const index = readFileSync(join(WEB, "index.html"), "utf8");
    const [entry] = [...index.matchAll(/<script[^>]+src="\.\/assets\/([^"]+)"/g)].map((found) => found[1]!);
    // From the entry along every import, static or not, but not into workers: more than the map needs, never less.
    const wanted = new Set<string>();
    const follow = (name: string): void => {
      if (wanted.has(name)) return;
      wanted.add(name);
      const code = readFileSync(join(assets, name), "utf8");
      for (const other of readdirSync(assets).filter((each) => each.endsWith(".js"))) {
        if (!/worker/.test(other) && code.includes(`./${other}`)) follow(other);
      }
    };
    follow(entry!);
    expect([...wanted].some((name) => name.startsWith("maplibre"))).toBe(true);
    const bytes = [...wanted].map((name) => gzipSync(readFileSync(join(assets, name))).length);
    expect(bytes.reduce((sum, each) => sum + each, 0)).toBeLessThanOrEqual(MOST_BYTES);
  });

  it("allows only its own scripts, and the report only the one it holds", () => {
    const policyOf = (path: string) =>
      /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(readFileSync(path, "utf8"))?.[1] ?? "";
    for (const path of [join(WEB, "index.html"), REPORT]) {
      const policy = policyOf(path);
      expect(policy).toContain("default-src 'none'");
      expect(policy).not.toMatch(/unsafe-|https?:|\*/);
    }
    expect(policyOf(REPORT)).toMatch(/script-src 'sha256-[A-Za-z0-9+/=]+'; style-src 'sha256-/);
    // A connection may only go to what the file itself holds.
    expect(policyOf(REPORT)).toContain("connect-src data: blob:;");
  });
});
