/** A process that writes results over earlier ones and is killed on the way, as often as asked for. */
import { type ChildProcessByStdio, spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Readable } from "node:stream";
import { build } from "vite";
import { prepareOutputFolder, writeOutputFolder } from "../../../src/cli/files/output-folder.ts";
import { MARKER_FILE } from "../../../src/cli/files/output-marker.ts";
import { NOTICE_FILE } from "../../../src/cli/files/output-moves.ts";
import { randomFrom } from "../../ingest/support/fuzz.ts";

const FILES = 12;
const FILE_BYTES = 90_000;

/** What the folder holds before: ours alone, a file of the user's beside it, a folder of the user's, or nothing at all. */
export type Before = "ours" | "a file of the user's" | "a folder of the user's" | "nothing";

export interface KillTally {
  /** What stood there right after the kill: earlier results whole, new ones whole. */
  old: number;
  new: number;
  /** Nothing in place, and both whole beside it: killed between the two renames of an exchange. */
  aside: number;
  /** A part of one run's files, with the notice; the rest waits whole inside. */
  part: number;
  /** Kills that found files half written. */
  unfinished: number;
  /** What stood there after the next run; anything else is an error. */
  oldAfter: number;
  newAfter: number;
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

function isWhole(folder: string, generation: string): boolean {
  const names = new Set(namesIn(folder));
  const found = [...generationsIn(folder)];
  const all = filesOf(generation).every(({ name }) => names.has(name));
  return all && found.join() === generation && names.has(MARKER_FILE) && !names.has(NOTICE_FILE);
}

/**
 * Kills the writer `times` times at random moments of its writing and checks what stands there, then and after the next
 * run. Files of two generations are never beside each other.
 */
export async function killWriter(
  scratch: string,
  before: Before,
  times: number,
  seed: number,
): Promise<KillTally> {
  const writer = await builtWriter(scratch);
  const random = randomFrom(seed);
  const tally: KillTally = { old: 0, new: 0, aside: 0, part: 0, unfinished: 0, oldAfter: 0, newAfter: 0 };
  const study = join(scratch, before.replaceAll(" ", "-"));
  mkdirSync(study);
  const whole = await lasted(writer, join(study, "measure"), null);
  rmSync(join(study, "measure"), { recursive: true });
  for (let kill = 0; kill < times; kill++) {
    const folder = join(study, `out-${kill}`);
    if (before !== "nothing") writeOutputFolder(folder, filesOf("old"));
    if (before === "a file of the user's") writeFileSync(join(folder, "mine.md"), "mine");
    if (before === "a folder of the user's") mkdirSync(join(folder, "mine"));
    await lasted(writer, folder, (random(1000) / 1000) * whole);
    const names = namesIn(folder);
    const beside = namesIn(study).filter((name) => name !== `out-${kill}`);
    const left = names.filter((name) => name.startsWith(".evenstand-writing"));
    const complete = left.some((name) => existsSync(join(folder, name, MARKER_FILE)));
    const found = [...generationsIn(folder)];
    if (found.length > 1 || found.some((one) => one.startsWith("broken")))
      throw new Error(`kill ${kill}: ${found.join(", ")} with ${left.join(", ")}`);
    if (isWhole(folder, "new")) tally.new++;
    else if (isWhole(folder, "old")) tally.old++;
    else if (beside.some((name) => name.startsWith(".") && isWhole(join(study, name), "new"))) {
      tally.aside++;
      const earlier = beside.filter((name) => name.includes("earlier-results"));
      if (before !== "nothing" && !earlier.some((name) => isWhole(join(study, name), "old")))
        throw new Error(`kill ${kill}: nothing in place, and the earlier results are not whole beside it`);
    } else if (names.includes(NOTICE_FILE)) tally.part++;
    else if (before === "nothing" && found.length === 0) tally.old++;
    else throw new Error(`kill ${kill}: a part of ${found.join()} without a notice; ${names.join(", ")}`);
    if (left.length > 0 && !complete) tally.unfinished++;
    prepareOutputFolder(folder);
    const users = { "a file of the user's": ["mine.md"], "a folder of the user's": ["mine"] }[
      before as string
    ];
    const after = ["new", "old"].find((generation) => isWhole(folder, generation));
    const own = after ? [MARKER_FILE, ...filesOf(after).map(({ name }) => name)] : [];
    const isOld = after === "old" || (before === "nothing" && !after);
    if ((!after && !isOld) || namesIn(folder).join() !== [...own, ...(users ?? [])].sort().join())
      throw new Error(`after the next run: ${namesIn(folder).join(", ")}`);
    if (isOld) tally.oldAfter++;
    else tally.newAfter++;
    rmSync(folder, { recursive: true, force: true });
    if (namesIn(study).length > 0)
      throw new Error(`after the next run, beside it: ${namesIn(study).join(", ")}`);
  }
  return tally;
}

/** The writer as one script for plain Node.js. */
async function builtWriter(scratch: string): Promise<string> {
  const entry = join(scratch, "writer.ts");
  const source = new URL("../../../src/cli/files/output-folder.ts", import.meta.url).pathname;
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
