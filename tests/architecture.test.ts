/** The house rules that a compiler does not hold: what may import what, and what no file may carry. */
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import * as library from "../src/index.ts";

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** From the foundations up: a stage imports its own and earlier ranks only. */
const RANKS: readonly (readonly string[])[] = [
  ["units", "errors", "format", "numerics"],
  ["ingest"],
  ["field"],
  ["passes"],
  ["compare", "stand"],
  ["cluster"],
  ["stand-model"],
  ["causes"],
  ["cost"],
  ["prescription", "trial"],
  ["report", "write"],
  ["prescribe"],
  ["analyse"],
  ["scout"],
  ["check", "setup"],
  ["results"],
  ["season"],
  ["index"],
  ["cli"],
];
const rankOf = new Map(RANKS.flatMap((stages, rank) => stages.map((stage) => [stage, rank] as const)));

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

const sources = filesBelow(join(root, "src")).map(readSource);
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

  it("is imported one way: no stage knows a later one", () => {
    const found = sources.flatMap((source) =>
      specifiersOf(source)
        .filter((name) => name.startsWith("."))
        .map((name) => ({ name, target: stageOf(join(dirname(source.path), name).split(sep).join("/")) }))
        .filter(({ target }) => (rankOf.get(target) ?? Infinity) > (rankOf.get(source.stage) ?? -1))
        // A type costs nothing at run time and the analysis is what a report is made of.
        .filter(({ name, target }) => !(target === "analyse" && onlyTypes(source, name)))
        .map(({ name }) => `${source.path}: ${name}`),
    );
    expect(found).toEqual([]);
  });

  it("has every stage in the order above", () => {
    expect(sources.filter((source) => !rankOf.has(source.stage)).map((source) => source.path)).toEqual([]);
  });

  it("exports this and nothing else", () => {
    expect(Object.keys(library).sort()).toMatchSnapshot();
  });

  it("is not imported from a page, nor the page from it", () => {
    const webFiles = existsSync(join(root, "web")) ? filesBelow(join(root, "web")).map(readSource) : [];
    const page = webFiles.filter((source) => specifiersOf(source).some((name) => name.includes("/cli/")));
    const command = sources.filter((source) => specifiersOf(source).some((name) => name.includes("/web/")));
    expect([...page, ...command].map((source) => source.path)).toEqual([]);
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
    const reached = reachedFrom("cli/inspect.ts");
    expect(reached).toContain("ingest/read-layer.ts");
    const heavy =
      /^@turf\/turf$|^(?:passes|compare|stand|cluster|stand-model|causes|cost|prescription|report)\//;
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

function readSource(file: string): Source {
  const path = relative(join(root, "src"), file).split(sep).join("/");
  const text = readFileSync(file, "utf8");
  return { path, stage: stageOf(path), code: stripped(text, true), uncommented: stripped(text, false) };
}

/** First folder, or the file's name where it lies at the top. */
function stageOf(path: string): string {
  return (path.split("/")[0] ?? "").replace(/\.ts$/, "");
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

function onlyTypes(source: Source, name: string): boolean {
  const from = source.uncommented.indexOf(`from "${name}"`);
  return /import type [^;]*$/.test(source.uncommented.slice(0, from));
}

/** Uses of a foreign name that the file does not declare itself (a parameter called `document` is no page). */
function freeUses(source: Source, pattern: RegExp): RegExpMatchArray[] {
  return [...source.code.matchAll(pattern)].filter((match) => {
    const variable = new RegExp(`(?:\\b(?:const|let|function|class)\\s+|[{(,]\\s*)${match[0]}\\s*[,:})=]`);
    const method = new RegExp(`^\\s*${match[0]}\\([^)]*\\)[^;=]*\\{$`, "m");
    return !variable.test(source.code) && !method.test(source.code);
  });
}
