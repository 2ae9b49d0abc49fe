import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { prepareOutputFolder, writeOutputFolder } from "../../src/cli/files/output-folder.ts";
import { MARKER_FILE } from "../../src/cli/files/output-marker.ts";
import { NOTICE_FILE } from "../../src/cli/files/output-moves.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();

/** Everything below a folder, hidden files too. */
const listing = (folder: string) => readdirSync(folder).sort();

describe("an output folder", () => {
  it("is made with its parents and a marker", () => {
    const folder = join(base, "new", "deep");
    writeOutputFolder(folder, [{ name: "a.txt", content: "one" }]);
    expect(listing(folder)).toEqual([MARKER_FILE, "a.txt"]);
    expect(readFileSync(join(folder, "a.txt"), "utf8")).toBe("one");
    expect(listing(join(base, "new"))).toEqual(["deep"]);
    // Readable like any folder the user makes, not private like a temporary one.
    expect(statSync(folder).mode & 0o777).toBe(0o777 & ~process.umask());
  });

  it("may exist when empty", () => {
    const folder = join(base, "empty");
    mkdirSync(folder);
    writeOutputFolder(folder, [{ name: "a.txt", content: "one" }]);
    expect(listing(folder)).toEqual([MARKER_FILE, "a.txt"]);
  });

  it("keeps what others put into it, replaces ours, takes away ours that are gone", () => {
    const folder = join(base, "again");
    writeOutputFolder(folder, [
      { name: "a.txt", content: "one" },
      { name: "old.txt", content: "old" },
    ]);
    writeFileSync(join(folder, "notes of mine.txt"), "mine");
    writeOutputFolder(folder, [{ name: "a.txt", content: "two" }]);
    expect(listing(folder)).toEqual([MARKER_FILE, "a.txt", "notes of mine.txt"]);
    expect(readFileSync(join(folder, "a.txt"), "utf8")).toBe("two");
    expect(readFileSync(join(folder, "notes of mine.txt"), "utf8")).toBe("mine");
  });

  it("is refused when it holds other files, or is a file", () => {
    const foreign = join(base, "foreign");
    mkdirSync(foreign);
    writeFileSync(join(foreign, "a.txt"), "mine");
    const file = join(base, "file");
    writeFileSync(file, "mine");
    for (const folder of [foreign, file]) {
      expect(() => writeOutputFolder(folder, [{ name: "a.txt", content: "one" }])).toThrowError(
        expect.objectContaining({ tag: "command-line-wrong" }),
      );
    }
    expect(listing(foreign)).toEqual(["a.txt"]);
    expect(readFileSync(join(foreign, "a.txt"), "utf8")).toBe("mine");
    expect(readFileSync(file, "utf8")).toBe("mine");
  });

  it("leaves nothing behind when writing fails, its new parents neither", () => {
    const folder = join(base, "failing", "deep");
    expect(() =>
      writeOutputFolder(folder, [
        { name: "a.txt", content: "one" },
        { name: "no such folder/b.txt", content: "two" },
      ]),
    ).toThrowError(expect.objectContaining({ tag: "command-line-wrong" }));
    expect(existsSync(join(base, "failing"))).toBe(false);
  });

  it("takes every move back where one fails", () => {
    const folder = join(base, "moved back");
    writeOutputFolder(folder, [
      { name: "a.txt", content: "one" },
      { name: "b.txt", content: "two" },
    ]);
    // A folder made where a file has to go between the look and the move: as a killed run of a doctored marker would meet it.
    const staging = join(folder, ".evenstand-writing-999999999-0");
    mkdirSync(staging);
    for (const name of ["a.txt", "c.txt"]) writeFileSync(join(staging, name), "new");
    writeFileSync(join(staging, MARKER_FILE), JSON.stringify({ files: ["a.txt", "c.txt"] }));
    mkdirSync(join(folder, "c.txt"));
    writeFileSync(join(folder, "c.txt", "mine"), "mine");
    expect(() => prepareOutputFolder(folder)).toThrowError(
      expect.objectContaining({ tag: "command-line-wrong" }),
    );
    expect(readFileSync(join(folder, "a.txt"), "utf8")).toBe("one");
    expect(readFileSync(join(folder, "b.txt"), "utf8")).toBe("two");
    expect(readFileSync(join(folder, "c.txt", "mine"), "utf8")).toBe("mine");
    expect(existsSync(join(folder, NOTICE_FILE))).toBe(false);
  });

  describe("is exchanged as a whole", () => {
    const inode = (path: string) => statSync(path).ino;
    const files = (generation: string) => [
      { name: "a.txt", content: generation },
      { name: `only ${generation}.txt`, content: generation },
    ];
    const written = (...path: string[]) => {
      const folder = join(base, "exchanged", ...path);
      writeOutputFolder(folder, files("old"));
      return folder;
    };

    it("keeping its mode and the user's files, which stay the same files", () => {
      const folder = written("kept");
      chmodSync(folder, 0o750);
      writeFileSync(join(folder, "mine.md"), "mine");
      const [before, mine] = [inode(folder), inode(join(folder, "mine.md"))];
      writeOutputFolder(folder, files("new"));
      expect(inode(folder)).not.toBe(before);
      expect(inode(join(folder, "mine.md"))).toBe(mine);
      expect(statSync(folder).mode & 0o777).toBe(0o750);
      expect(listing(folder)).toEqual([MARKER_FILE, "a.txt", "mine.md", "only new.txt"]);
      expect(listing(join(folder, "..")).filter((name) => name.includes("kept"))).toEqual(["kept"]);
    });

    it("but not where a folder of the user's lies in it, or somebody works in it", async () => {
      const withFolder = written("with a folder");
      mkdirSync(join(withFolder, "mine"));
      const workedIn = written("worked in");
      const worker = spawn(process.execPath, ["-e", "setTimeout(() => {}, 60_000)"], { cwd: workedIn });
      await once(worker, "spawn");
      try {
        for (const folder of [withFolder, workedIn]) {
          const before = inode(folder);
          writeOutputFolder(folder, files("new"));
          // Only Linux tells where others work.
          if (folder === withFolder || process.platform === "linux") expect(inode(folder)).toBe(before);
          expect(listing(folder)).toContain("only new.txt");
          expect(listing(folder)).not.toContain("only old.txt");
        }
      } finally {
        worker.kill();
      }
    });

    it("behind a link, and a killed exchange of it is finished", () => {
      const place = written("linked", "place");
      const link = join(base, "exchanged", "link");
      symlinkSync(place, link);
      writeOutputFolder(link, files("new"));
      expect(listing(place)).toContain("only new.txt");
      renameSync(place, join(base, "exchanged", "linked", ".place.evenstand-ready-999999999-0"));
      prepareOutputFolder(link);
      expect(listing(link)).toEqual([MARKER_FILE, "a.txt", "only new.txt"]);
    });

    it.each([
      ["between the renames", true, true],
      ["before the first", true, false],
      ["after the second", false, true],
    ])("and a run killed %s is finished by the next", (when, isReady, isAside) => {
      const folder = written(when);
      const beside = join(base, "exchanged");
      if (isReady) {
        const made = join(beside, "made", when);
        writeOutputFolder(made, files("new"));
        renameSync(made, join(beside, `.${when}.evenstand-ready-999999999-0`));
      }
      if (isAside) {
        renameSync(folder, join(beside, `${when}.earlier-results-999999999-0`));
        if (!isReady) writeOutputFolder(folder, files("new"));
        // Put there by the user in between.
        writeFileSync(join(beside, `${when}.earlier-results-999999999-0`, "mine.md"), "mine");
      }
      prepareOutputFolder(folder);
      const mine = isAside ? ["mine.md"] : [];
      expect(listing(folder)).toEqual([MARKER_FILE, "a.txt", ...mine, "only new.txt"]);
      expect(listing(beside).filter((name) => name.includes(when))).toEqual([when]);
    });
  });

  it("is not led out of its folder by a doctored marker", () => {
    const folder = join(base, "doctored");
    const outside = join(base, "outside.txt");
    mkdirSync(folder);
    writeFileSync(outside, "mine");
    writeFileSync(join(folder, MARKER_FILE), JSON.stringify({ files: ["../outside.txt", "..", ".", ""] }));
    writeOutputFolder(folder, [{ name: "a.txt", content: "one" }]);
    expect(readFileSync(outside, "utf8")).toBe("mine");
    expect(listing(folder)).toEqual([MARKER_FILE, "a.txt"]);
  });
});
