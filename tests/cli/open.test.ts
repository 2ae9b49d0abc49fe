/** Needs the built page: `npm test` builds before it tests. */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { SMALL_MANIFEST, writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
writeSmallField(join(base, "field"));

/** Runs `open` until `visit` is done with the address it printed. */
async function whileOpen(argv: string[], visit: (address: string) => Promise<void>) {
  const stop = new AbortController();
  let printed = (_address: string) => {};
  const address = new Promise<string>((resolve) => {
    printed = resolve;
  });
  const io = fakeIo(base, { stop: stop.signal, out: (text) => printed(text.trim()) });
  const running = run(argv, io);
  try {
    await visit(
      await Promise.race([
        address,
        running.then((code) => Promise.reject(new Error(`${code}: ${io.written.err}`))),
      ]),
    );
  } finally {
    stop.abort();
  }
  return { code: await running, err: io.written.err };
}

describe("open", () => {
  it("serves the page and the field on 127.0.0.1 until it is stopped", async () => {
    let seen = "";
    const { code, err } = await whileOpen(["open", "field"], async (address) => {
      expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
      seen = address;
      const page = await fetch(address);
      expect(await page.text()).toContain("<title>Evenstand");
      const { name, manifest } = (await (await fetch(`${address}field/manifest`)).json()) as Record<
        string,
        unknown
      >;
      expect(name).toBe("Small Field");
      expect(manifest).toEqual(SMALL_MANIFEST);
      const log = await fetch(`${address}field/files/planting.geojson`);
      expect(((await log.json()) as { features: unknown[] }).features).toHaveLength(1010);
      expect((await fetch(`${address}field/files/field.json`)).status).toBe(404);
    });
    expect(code).toBe(0);
    expect(err).toContain("Small Field is open");
    await expect(fetch(seen)).rejects.toThrow();
  });

  it("opens empty, and hands out the licence notices of what the page is made of", async () => {
    const { code } = await whileOpen(["open"], async (address) => {
      expect(await (await fetch(`${address}field/manifest`)).json()).toBeNull();
      const notices = await (await fetch(`${address}THIRD-PARTY-NOTICES.txt`)).text();
      for (const name of ["ColorBrewer", "maplibre-gl", "SIL OPEN FONT LICENSE", "geojson-validation"]) {
        expect(notices).toContain(name);
      }
    });
    expect(code).toBe(0);
  });

  it("says so when the port is taken, the field missing or its manifest wrong", async () => {
    const other = createServer().listen(0, "127.0.0.1");
    await new Promise((resolve) => other.once("listening", resolve));
    const { port } = other.address() as AddressInfo;
    const taken = fakeIo(base);
    expect(await run(["open", "--port", String(port)], taken)).toBe(2);
    expect(taken.written.err).toContain(`--port ${port}`);
    other.close();
    const missing = fakeIo(base);
    expect(await run(["open", "nowhere"], missing)).toBe(3);
    expect(missing.written.err).toContain("nowhere");
    writeSmallField(join(base, "wrong"), { "field.json": { plantingLog: { file: "../planting.geojson" } } });
    expect(await run(["open", "wrong"], fakeIo(base))).toBe(3);
  });
});
