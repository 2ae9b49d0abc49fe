import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
const field = writeSmallField(join(base, "field"));

async function scout(...argv: string[]) {
  const io = fakeIo(base);
  const code = await run(["scout", ...argv], io);
  return { code, ...io.written };
}

describe("evenstand scout", () => {
  it("writes the forms, says what the spots are for, and the cautions", async () => {
    const { code, out } = await scout(field, "--out", "forms", "--spots", "16", "--digs", "4");
    expect(code).toBe(0);
    expect(readdirSync(join(base, "forms")).sort()).toEqual([
      ".evenstand",
      "scout-digs.csv",
      "scout.csv",
      "scout.geojson",
      "scout.gpx",
      "scout.html",
    ]);
    expect(out).toContain("16 spots to count");
    expect(out.replaceAll(/\s+/g, " ")).toContain("Seed may be treated: wear gloves");
    expect(
      readFileSync(join(base, "forms", "scout.csv"), "utf8")
        .trimEnd()
        .split("\r\n"),
    ).toHaveLength(17);
  });

  it("writes the same bytes each time", async () => {
    await scout(field, "--out", "one");
    await scout(field, "--out", "two");
    for (const name of readdirSync(join(base, "one")))
      expect(readFileSync(join(base, "one", name))).toEqual(readFileSync(join(base, "two", name)));
  });

  it.each([[["--spots", "0"]], [["--spots", "many"]], [["--digs", "-1"]]])(
    "refuses %o with exit code 2",
    async (argv) => {
      expect((await scout(field, "--out", "none", ...argv)).code).toBe(2);
    },
  );

  it("needs a folder, and leaves a foreign one alone", async () => {
    expect((await scout(field)).code).toBe(2);
    const { code, err } = await scout(field, "--out", "field");
    expect(code).toBe(2);
    expect(err).toContain("holds other files");
  });
});
