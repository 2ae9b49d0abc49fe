/** The house rules that a compiler does not hold: what may import what, and what no file may carry. */
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import * as library from "../src/index.ts";

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** From the foundations up: a room imports its own and earlier ranks only. */
const RANKS: readonly (readonly string[])[] = [
  ["errors"],
  ["quantities", "numerics"],
  ["texts"],
  ["vocabulary"],
  ["ingest"],
  ["manifest"],
  ["recognise"],
  ["field"],
  ["roles"],
  ["passes"],
  ["compare", "stand"],
  ["cells"],
  ["rows", "places"],
  ["stand-model"],
  ["causes"],
  ["cost"],
  ["findings"],
  ["prescription"],
  ["rate-zones"],
  ["words"],
  ["report"],
  ["write", "replant"],
  ["scout"],
  ["jobs"],
  ["check", "setup", "proof"],
  ["season"],
  ["index"],
  ["cli"],
];
/** The same for the page: what is told and shown first, what puts it together last; the worker knows no screen. */
const PAGE_RANKS: readonly (readonly string[])[] = [
  ["protocol", "styles", "vite-env.d"],
  ["words"],
  ["colours"],
  ["model"],
  ["controls"],
  ["client"],
  ["map"],
  ["furrow"],
  ["tables"],
  ["prescription", "seasons", "stand-and-money"],
  ["ledger"],
  ["shell"],
  ["report", "main", "season", "worker"],
];
/** A folder with more files than this wants rooms of its own. */
const MOST_FILES = 25;

/** Globals of a page or of Node that the library must not know. */
const FOREIGN_GLOBALS = [
  "document",
  "window",
  "navigator",
  "localStorage",
  "process",
  "Buffer",
  "fetch",
  "console",
  "setTimeout",
  "setInterval",
  "performance",
  "__dirname",
];

interface Source {
  /** Path below src with forward slashes. */
  path: string;
  stage: string;
  /** Text with comments and string contents taken out, and with only comments taken out. */
  code: string;
  uncommented: string;
}

const sources = filesBelow(join(root, "src")).map((file) => readSource(file, "src"));
const pageSources = filesBelow(join(root, "web")).map((file) => readSource(file, "web"));
const librarySources = sources.filter((source) => source.stage !== "cli");

describe("the library", () => {
  it("has sources to look at", () => {
    expect(librarySources.length).toBeGreaterThan(20);
    expect(new Set(sources.map((source) => source.stage))).toContain("ingest");
  });

  it("imports nothing of Node", () => {
    const builtins = new Set(builtinModules);
    const found = librarySources.flatMap((source) =>
      specifiersOf(source)
        .filter((name) => name.startsWith("node:") || builtins.has(name.split("/")[0] ?? ""))
        .map((name) => `${source.path}: ${name}`),
    );
    expect(found).toEqual([]);
  });

  it("knows no page, no process, no network, no clock, and never prints", () => {
    const globals = new RegExp(`(?<![.\\w$])(?:${FOREIGN_GLOBALS.join("|")})(?=\\s*[.([])`, "g");
    const clock = /\bDate\.now\b|\bnew Date\(\s*\)|\bMath\.random\b/g;
    const found = librarySources.flatMap((source) =>
      [...freeUses(source, globals), ...source.code.matchAll(clock)].map(
        (match) => `${source.path}: ${match[0]}`,
      ),
    );
    expect(found).toEqual([]);
  });

  it("is imported one way: no room knows a later one, not even by a type", () => {
    expect(againstTheOrder(sources, RANKS)).toEqual([]);
  });

  it("exports this and nothing else", () => {
    expect(Object.keys(library).sort()).toMatchSnapshot();
  });

  it("is not imported from a page, nor the page from it", () => {
    const page = pageSources.filter((source) => specifiersOf(source).some((name) => name.includes("/cli/")));
    const command = sources.filter((source) => specifiersOf(source).some((name) => name.includes("/web/")));
    expect([...page, ...command].map((source) => source.path)).toEqual([]);
  });
});

describe("the page", () => {
  it("is imported one way: no room knows a later one, not even by a type", () => {
    expect(pageSources.length).toBeGreaterThan(100);
    expect(againstTheOrder(pageSources, PAGE_RANKS)).toEqual([]);
  });
});

describe("the rooms", () => {
  it("hold no circle of files that import each other", () => {
    expect([...circlesIn(sources), ...circlesIn(pageSources)]).toEqual([]);
  });

  it("hold no more files than can be looked over", () => {
    const counts = new Map<string, number>();
    for (const file of everyFile()) counts.set(dirname(file), (counts.get(dirname(file)) ?? 0) + 1);
    expect([...counts].filter(([, count]) => count > MOST_FILES)).toEqual([]);
  });

  it("each say in the documents what they are for", () => {
    const said = readFileSync(join(root, "docs/architecture.md"), "utf8");
    const folders = [...new Set(everyFile().map((file) => dirname(file)))].filter((folder) =>
      folder.includes("/"),
    );
    expect(folders.length).toBeGreaterThan(40);
    expect(folders.filter((folder) => !said.includes(`| \`${folder}\` | `))).toEqual([]);
    const rows = [...said.matchAll(/^\| `((?:src|web)\/[^`]*)` \|/gm)].map((match) => match[1]!);
    expect(rows.filter((row) => !existsSync(join(root, row)))).toEqual([]);
  });
});

describe("the start of the command", () => {
  it("loads commander and little else before it knows what is asked for", () => {
    const reached = reachedFrom("cli/main.ts");
    expect(reached.filter((name) => !name.endsWith(".ts") && !name.startsWith("node:"))).toEqual([
      "commander",
    ]);
    expect(reached.length).toBeLessThan(25);
  });

  it("looks into files without the whole of a geometry library or the stages of an analysis", () => {
    const reached = reachedFrom("cli/commands/inspect.ts");
    expect(reached).toContain("ingest/read-layer.ts");
    const heavy =
      /^@turf\/turf$|^(?:passes|compare|stand|cells|rows|places|stand-model|causes|cost|findings|prescription|rate-zones|words|report)\//;
    expect(reached.filter((name) => heavy.test(name))).toEqual([]);
  });
});

describe("the checkout", () => {
  const tracked = execFileSync("git", ["ls-files", "-z"], { cwd: root, encoding: "utf8" })
    .split("\0")
    .filter((path) => path && existsSync(join(root, path)))
    .filter((path) => !/\.(png|zip|gz|woff2|dbf|shp|shx)$/.test(path));

  it("names no path of one machine and no package registry", () => {
    // Written in pieces so that this file does not find itself.
    const words = [
      "/work" + "/",
      "/home" + "/",
      "/root" + "/",
      "/Us" + "ers/",
      "registry." + "npm",
      "npm" + "js.org",
    ];
    const found = tracked.flatMap((path) => {
      const text = readFileSync(join(root, path), "utf8");
      return words.filter((word) => text.includes(word)).map((word) => `${path}: ${word}`);
    });
    expect(tracked.length).toBeGreaterThan(20);
    expect(found).toEqual([]);
  });

  it("locks packages by version and hash, not by the host they once came from", () => {
    const lock = readFileSync(join(root, "package-lock.json"), "utf8");
    expect(lock).not.toContain('"resolved"');
    expect(lock).toContain('"integrity"');
  });

  it("has no link or picture in its documents that leads nowhere", () => {
    const found = tracked
      .filter((path) => path.endsWith(".md"))
      .flatMap((path) => {
        const text = readFileSync(join(root, path), "utf8");
        const links = [...text.matchAll(/\]\((?![a-z]+:|#)([^)#\s]+)/g)].map((match) => match[1] ?? "");
        return links
          .filter((link) => !existsSync(join(root, dirname(path), link)))
          .map((link) => `${path}: ${link}`);
      });
    expect(found).toEqual([]);
  });

  it("has no source file longer than 350 lines", () => {
    const long = tracked
      .filter((path) => /^(src|web)\/.*\.(ts|tsx|css)$/.test(path))
      .filter((path) => readFileSync(join(root, path), "utf8").split("\n").length > 351);
    expect(long).toEqual([]);
  });
});

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesBelow(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

function readSource(file: string, house: "src" | "web"): Source {
  const path = relative(join(root, house), file).split(sep).join("/");
  const text = readFileSync(file, "utf8");
  return { path, stage: stageOf(path), code: stripped(text, true), uncommented: stripped(text, false) };
}

/** First folder, or the file's name where it lies at the top. */
function stageOf(path: string): string {
  return (path.split("/")[0] ?? "").replace(/\.tsx?$/, "");
}

/**
 * Text without comments and, where asked, with string contents emptied. A scanner of tokens rather than a
 * parser: regular expressions are told from divisions by what stands before them.
 */
function stripped(text: string, emptyStrings: boolean): string {
  const token =
    /\/\/[^\n]*|\/\*[\s\S]*?\*\/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`|(?<=[=(,:[!&|?{};\n]\s*)\/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n*[])(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n[])*\/[a-z]*/g;
  return text.replace(token, (match) => {
    if (match.startsWith("//") || match.startsWith("/*")) return " ";
    if (match.startsWith("`"))
      return emptyStrings
        ? `\`${[...match.matchAll(/\$\{([^}]*)\}/g)].map((part) => part[1]).join(" ")}\``
        : match;
    return emptyStrings ? '""' : match;
  });
}

function specifiersOf(source: Source): string[] {
  const pattern = /\b(?:from|import)\s*\(?\s*["']([^"']+)["']/g;
  return [...source.uncommented.matchAll(pattern)].map((match) => match[1] ?? "");
}

/** Every module that is loaded with a file of src, packages by name; what is imported when it is asked for does not count. */
function reachedFrom(start: string): string[] {
  const byPath = new Map(sources.map((source) => [source.path, source]));
  const reached = new Set<string>([start]);
  for (const path of reached) {
    const source = byPath.get(path);
    if (!source) continue;
    for (const [, clause, name] of source.uncommented.matchAll(
      /^(?:import|export)\s+([^;"]*?)from\s+"([^"]+)"/gm,
    )) {
      const names = clause!.trim();
      if (names.startsWith("type ") || /^\{(?:\s*type [^,}]+,?)+\s*\}$/.test(names)) continue;
      reached.add(name!.startsWith(".") ? join(dirname(path), name!).split(sep).join("/") : name!);
    }
  }
  return [...reached].sort();
}

/** Files of src and web below the checkout's root. */
function everyFile(): string[] {
  return [...sources.map(({ path }) => `src/${path}`), ...pageSources.map(({ path }) => `web/${path}`)];
}

/** Files of the same house that a file imports, types too. */
function importsOf(source: Source, all: ReadonlySet<string>): string[] {
  return specifiersOf(source)
    .filter((name) => name.startsWith("."))
    .map((name) => join(dirname(source.path), name).split(sep).join("/"))
    .filter((path) => all.has(path));
}

/** Imports of a later room or of another one of the same rank, and files that stand in no room of the order. */
function againstTheOrder(house: readonly Source[], ranks: readonly (readonly string[])[]): string[] {
  const rankOf = new Map(ranks.flatMap((rooms, rank) => rooms.map((room) => [room, rank] as const)));
  const all = new Set(house.map(({ path }) => path));
  return house.flatMap((source) => {
    const own = rankOf.get(source.stage);
    if (own === undefined) return [`${source.path}: in no room of the order`];
    return importsOf(source, all)
      .filter((path) => {
        const room = stageOf(path);
        return room !== source.stage && (rankOf.get(room) ?? Number.POSITIVE_INFINITY) >= own;
      })
      .map((path) => `${source.path}: ${path}`);
  });
}

/** Groups of files that reach each other by their imports, found by taking away what imports nothing that is left. */
function circlesIn(house: readonly Source[]): string[] {
  const all = new Set(house.map(({ path }) => path));
  const left = new Map(house.map((source) => [source.path, importsOf(source, all)]));
  for (let before = -1; before !== left.size; ) {
    before = left.size;
    for (const [path, imported] of left) {
      if (!imported.some((other) => left.has(other))) left.delete(path);
    }
  }
  return [...left.keys()].sort();
}

/** Uses of a foreign name that the file does not declare itself (a parameter called `document` is no page). */
function freeUses(source: Source, pattern: RegExp): RegExpMatchArray[] {
  return [...source.code.matchAll(pattern)].filter((match) => {
    const variable = new RegExp(`(?:\\b(?:const|let|function|class)\\s+|[{(,]\\s*)${match[0]}\\s*[,:})=]`);
    const method = new RegExp(`^\\s*${match[0]}\\([^)]*\\)[^;=]*\\{$`, "m");
    return !variable.test(source.code) && !method.test(source.code);
  });
}
