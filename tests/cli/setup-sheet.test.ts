import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { documentFixture, findingFixture } from "../support/findings-fixture.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();

async function sheet(...argv: string[]) {
  const io = fakeIo(base);
  const code = await run(["setup-sheet", ...argv], io);
  return { code, ...io.written };
}

function results(name: string, row: number): string {
  const finding = findingFixture({ kind: "row-unit", cause: "misses" });
  const document = documentFixture([{ ...finding, where: { ...finding.where, rowUnits: [row] } }]);
  const { field } = document;
  mkdirSync(join(base, name), { recursive: true });
  writeFileSync(
    join(base, name, "findings.json"),
    JSON.stringify({ ...document, field: { ...field, name } }),
  );
  return name;
}

const north = results("North", 7);
const south = results("South", 3);

describe("evenstand setup-sheet", () => {
  it("puts the fields of one planter on one sheet, the same bytes each time", async () => {
    const { code, out, err } = await sheet(north, join(south, "findings.json"), "--out", "sheet.html");
    expect(err).toBe("Print sheet.html.\n");
    expect(code).toBe(0);
    const html = readFileSync(join(base, "sheet.html"), "utf8");
    expect(html.match(/<article/g)).toHaveLength(1);
    expect(html).toContain("From the results of North, South.");
    expect(html).toContain("Seed meters: rows 3, 7 first");
    expect(out).toContain("row 7");
    expect(out).toContain("Before reaching under a planter");
    await sheet(north, south, "--out", "again.html");
    expect(readFileSync(join(base, "again.html"), "utf8")).toBe(html);
    expect(readdirSync(base).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  it("shows the loads of the prescription that lies beside, and does without a damaged one", async () => {
    const decision = { soilZone: "clay", prescribedN: { damp: 267, fit: 445, dry: 534 } };
    const text = JSON.stringify({ schema: "evenstand/prescription/1", decisions: [decision] });
    writeFileSync(join(base, "North", "prescription.json"), text);
    await sheet(north, "--out", "loads.html");
    expect(readFileSync(join(base, "loads.html"), "utf8")).toContain(
      "<td>60 lb</td><td>100 lb</td><td>120 lb</td>",
    );
    writeFileSync(join(base, "North", "prescription.json"), text.slice(0, 30));
    const { code, err } = await sheet(north, "--out", "none.html");
    expect(code).toBe(0);
    expect(err).toContain("North/prescription.json: is no prescription");
  });

  it("refuses what are no results, and a name that is no page, and writes nothing", async () => {
    writeFileSync(join(base, "other.json"), '{"schema":"another"}');
    const { code, err } = await sheet(north, "other.json", "--out", "refused.html");
    expect(code).toBe(3);
    expect(err).toContain("other.json");
    expect((await sheet("nowhere", "--out", "refused.html")).code).toBe(3);
    expect(existsSync(join(base, "refused.html"))).toBe(false);
    expect((await sheet(north, "--out", "sheet.pdf")).code).toBe(2);
    expect((await sheet(north, "--out", "North")).code).toBe(2);
    expect((await sheet("--out", "sheet.html")).code).toBe(2);
  });
});
