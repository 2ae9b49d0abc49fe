/** Collects the constants of the library with where each comes from, as the comments beside them say. */
import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";

export interface RegisteredConstant {
  /** Path below the checkout. */
  file: string;
  name: string;
  /** As it stands in the code; null for a table or a rule of several lines. */
  value: string | null;
  /** The comment beside it, on one line. */
  said: string;
  from: "our judgement" | "common practice" | "from memory";
}

const ORIGINS = ["our judgement", "common practice", "from memory"] as const;
/** A comment and what it stands before: a constant or a member of a table. */
const COMMENTED =
  /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\n[ \t]*(?:export )?(?:(?:const|function) )?([A-Za-z]\w*)(?:: [^=\n{]+)?(?: =|:|\() ?([^\n]*)/g;
/** A value that can be shown: figures, with their sign, quotients and conversions. */
const SHOWN = /^[-\d.,_\s/*[\]()e+]+$/;

/** Every constant below `folder` that owns up to an origin, by file and place in it. */
export function constantsBelow(folder: string, root: string): RegisteredConstant[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .flatMap((path) => constantsIn(readFileSync(path, "utf8"), relative(root, path).split(sep).join("/")));
}

function constantsIn(text: string, file: string): RegisteredConstant[] {
  return [...text.matchAll(COMMENTED)].flatMap(([, comment, name, rest]) => {
    const said = comment!
      .replace(/^\s*\* ?/gm, "")
      .replace(/\s+/g, " ")
      .trim();
    const from = ORIGINS.find((origin) => said.toLowerCase().includes(origin));
    if (!from) return [];
    const value = rest!.replace(/(?: as const)?[;,]?\s*$/, "");
    return [{ file, name: name!, value: SHOWN.test(value) ? value.replaceAll("_", "") : null, said, from }];
  });
}

/** The register as it stands in `docs/constants.md`. */
export function constantsText(constants: readonly RegisteredConstant[]): string {
  const rooms = [...new Set(constants.map(({ file }) => file.split("/").slice(0, 2).join("/")))];
  const count = (from: RegisteredConstant["from"]): number =>
    constants.filter((constant) => constant.from === from).length;
  const cell = (text: string): string => text.replaceAll("|", "\\|").replaceAll("<", "&lt;");
  const parts = rooms.map((room) => {
    const rows = constants
      .filter(({ file }) => file.startsWith(`${room}/`) || file === room)
      .map(
        ({ file, name, value, said }) =>
          `| \`${file.slice(room.length + 1)}\` | \`${name}\` | ${value === null ? "in the code" : `\`${value}\``} | ${cell(said)} |`,
      );
    return `## ${room}\n\n| file | name | value | what, and where it comes from |\n| --- | --- | --- | --- |\n${rows.join("\n")}\n`;
  });
  return `# Constants without a published source

Collected from the code by \`npm run docs\`; a test holds that it is up to date. ${constants.length} constants: ${count("our judgement")} our judgement,
${count("common practice")} common practice without a source, ${count("from memory")} from memory. Those that rest on a publication name it where they stand; the limits
of planting, with a source or without, are together in \`src/compare/thresholds.ts\` and in every \`findings.json\`.

${parts.join("\n")}`;
}
