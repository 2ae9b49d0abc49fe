import { createHash } from "node:crypto";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { FieldFiles } from "../../src/cli/files/field-files.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
const folder = join(base, "field");
mkdirSync(join(folder, "soil"), { recursive: true });
writeFileSync(join(base, "outside.csv"), "a\n1\n");
writeFileSync(join(folder, "log.csv"), "abc");
for (const name of ["Zones.shp", "ZONES.DBF", "zones.prj", "zones.qix", "zones2.shx"]) {
  writeFileSync(join(folder, "soil", name), name);
}
symlinkSync(join(base, "outside.csv"), join(folder, "link.csv"));
symlinkSync(base, join(folder, "up"));

describe("the files of a field", () => {
  it("gives bytes under the name the manifest uses, and keeps their hash", async () => {
    const files = new FieldFiles(folder, false);
    const [file, ...rest] = await files.provide("./log.csv");
    expect(rest).toEqual([]);
    expect(file?.name).toBe("./log.csv");
    expect(new TextDecoder().decode(file?.bytes)).toBe("abc");
    // SHA-256 of "abc": FIPS 180-2, appendix B.1.
    expect(files.hashes.get("./log.csv")).toBe(
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
  });

  it("brings the siblings of a .shp, in any case, and no others", async () => {
    const files = new FieldFiles(folder, false);
    const set = await files.provide("soil/Zones.shp");
    expect(set.map((file) => file.name).sort()).toEqual([
      "soil/ZONES.DBF",
      "soil/Zones.shp",
      "soil/zones.prj",
    ]);
    const hash = (text: string) => createHash("sha256").update(text).digest("hex");
    const lines = ["ZONES.DBF", "Zones.shp", "zones.prj"].map((name) => `${hash(name)}  ${name}\n`);
    expect(files.hashes.get("soil/Zones.shp")).toBe(hash(lines.join("")));
  });

  it.each(["../outside.csv", "link.csv", "up/outside.csv"])(
    "refuses %s: outside the folder",
    async (path) => {
      await expect(new FieldFiles(folder, false).provide(path)).rejects.toMatchObject({
        tag: "file-unusable",
        message: expect.stringContaining(path) as string,
      });
      const allowed = await new FieldFiles(folder, true).provide(path);
      expect(new TextDecoder().decode(allowed[0]?.bytes)).toBe("a\n1\n");
    },
  );

  it.each([
    ["missing.csv", "missing.csv: no such file"],
    ["missing/missing.shp", "missing/missing.shp: no such file"],
    ["soil", "soil: is a folder, not a file"],
    ["log.csv/x", "log.csv/x: no such file"],
  ])("says plainly that %s cannot be read", async (path, message) => {
    await expect(new FieldFiles(folder, false).provide(path)).rejects.toMatchObject({
      tag: "file-unusable",
      message,
    });
  });
});
