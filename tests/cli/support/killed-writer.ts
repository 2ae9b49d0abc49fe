/** A process that writes results over earlier ones and is killed on the way, as often as asked for. */
import { type ChildProcessByStdio, spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Readable } from "node:stream";
import { build } from "vite";
import {
  MARKER_FILE,
  NOTICE_FILE,
  prepareOutputFolder,
  writeOutputFolder,
} from "../../../src/cli/output-folder.ts";
import { randomFrom } from "../../ingest/support/fuzz.ts";

const FILES = 12;
const FILE_BYTES = 90_000;

export interface KillTally {
  /** What stood there right after the kill. */
  old: number;
  new: number;
  /** Killed while finished files were moved: a part of one run's files, with the notice; the rest waits whole inside. */
  moving: number;
  /** Kills that found files half written. */
  unfinished: number;
}

/** Files of one generation; the second one has another file and lacks one. */
function filesOf(generation: string) {
  return Array.from({ length: FILES }, (_, index) => ({
    name: index === 0 ? `only-${generation}.txt` : `part-${index}.txt`,
    content: `${generation} `.repeat(FILE_BYTES / 3),
  }));
}

/** Generation of every file in the folder, by its start; names of ours only. */
function generationsIn(folder: string): Set<string> {
  const names = namesIn(folder).filter((name) => name.endsWith(".txt") && name !== NOTICE_FILE);
  return new Set(
    names.map((name) => {
      const text = readFileSync(join(folder, name), "utf8");
      const generation = text.split(" ", 1)[0]!;
      return text === filesOf(generation)[0]!.content ? generation : `broken ${name}`;
    }),
  );
}

function namesIn(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).sort() : [];
}

/**
 * Kills the writer `times` times at random moments of its writing and checks what stands there, then and after the next
 * run. Every third time there are no earlier results. Files of two generations are never beside each other.
 */
export async function killWriter(scratch: string, times: number, seed: number): Promise<KillTally> {
  const writer = await builtWriter(scratch);
  const random = randomFrom(seed);
  const tally: KillTally = { old: 0, new: 0, moving: 0, unfinished: 0 };
  const whole = await lasted(writer, join(scratch, "measure"), null);
  for (let kill = 0; kill < times; kill++) {
    const folder = join(scratch, `out-${kill}`);
    const isFirst = kill % 3 === 2;
    if (!isFirst) {
      writeOutputFolder(folder, filesOf("old"));
      writeFileSync(join(folder, "mine.md"), "mine");
    }
    await lasted(writer, folder, (random(1000) / 1000) * whole);
    const names = namesIn(folder);
    const left = names.filter((name) => name.startsWith(".evenstand-writing"));
    const complete = left.some((name) => existsSync(join(folder, name, MARKER_FILE)));
    const found = [...generationsIn(folder)];
    const isWhole = (generation: string) =>
      filesOf(generation).every(({ name }) => names.includes(name)) && !names.includes(NOTICE_FILE);
    if (found.length > 1 || found.some((one) => one.startsWith("broken")))
      throw new Error(`kill ${kill}: ${found.join(", ")} with ${left.join(", ")}`);
    if (found.length === (isFirst ? 0 : 1) && (isFirst || isWhole("old")) && !names.includes(NOTICE_FILE))
      tally.old++;
    else if (found[0] === "new" && isWhole("new")) tally.new++;
    else if (names.includes(NOTICE_FILE)) tally.moving++;
    else throw new Error(`kill ${kill}: a part of ${found.join()} without a notice; ${names.join(", ")}`);
    if (left.length > 0 && !complete) tally.unfinished++;
    prepareOutputFolder(folder);
    const after = [...generationsIn(folder)];
    const own = after.length === 1 ? filesOf(after[0]!).map(({ name }) => name) : [];
    const expected = [...own, ...(own.length > 0 ? [MARKER_FILE] : []), ...(isFirst ? [] : ["mine.md"])];
    if (
      after.length !== (isFirst && own.length === 0 ? 0 : 1) ||
      namesIn(folder).join() !== expected.sort().join()
    )
      throw new Error(`after the next run: ${after.join(", ")}; ${namesIn(folder).join(", ")}`);
  }
  return tally;
}

/** The writer as one script for plain Node.js. */
async function builtWriter(scratch: string): Promise<string> {
  const entry = join(scratch, "writer.ts");
  const source = new URL("../../../src/cli/output-folder.ts", import.meta.url).pathname;
  writeFileSync(
    entry,
    `import { writeOutputFolder } from ${JSON.stringify(source)};
const files = Array.from({ length: ${FILES} }, (_, index) => ({
  name: index === 0 ? "only-new.txt" : \`part-\${index}.txt\`,
  content: "new ".repeat(${FILE_BYTES} / 3),
}));
process.stdout.write("begin\\n", () => {
  writeOutputFolder(process.argv[2], files);
  process.stdout.write("end\\n");
});
`,
  );
  await build({
    configFile: false,
    logLevel: "silent",
    build: { ssr: entry, outDir: join(scratch, "built"), minify: false },
  });
  const [name] = readdirSync(join(scratch, "built"));
  return join(scratch, "built", name!);
}

/** Milliseconds from the begin of writing to its end, or to the kill after `killAfter`. */
async function lasted(writer: string, folder: string, killAfter: number | null): Promise<number> {
  const child: ChildProcessByStdio<null, Readable, null> = spawn(process.execPath, [writer, folder], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  let begun = 0;
  let done = 0;
  child.stdout.setEncoding("utf8");
  child.stdout.on("data", (text: string) => {
    if (text.includes("begin")) {
      begun = performance.now();
      if (killAfter !== null) setTimeout(() => child.kill("SIGKILL"), killAfter);
    }
    if (text.includes("end")) done = performance.now();
  });
  await ended;
  return done - begun;
}
