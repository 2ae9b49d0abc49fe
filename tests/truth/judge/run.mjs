// `node tests/truth/judge/run.mjs --set judge --fields 60 --out results.jsonl`: analyses invented fields of worlds that
// differ in kind and scores what the tool says. One line a field goes to the file; fields that stand there already are
// not run again, so that a run can be cut. `--read FILE...` prints the tables of files that were written before.
//   --worlds bars,drone   worlds by name (else those of --set tune, judge or both)
//   --kinds one,zone-12   kinds by turns (else the usual mixture)
//   --from 1000           first seed
//   --counts 2500         how many counts a field (else the world's usual 60 to 200)
//   --depth-source unnamed   the manifest does not say where the depth comes from
import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { createServer } from "vite";
import { root } from "../../../.ci/set-up.mjs";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    set: { type: "string", default: "both" },
    worlds: { type: "string" },
    kinds: { type: "string" },
    from: { type: "string", default: "1000" },
    fields: { type: "string", default: "60" },
    out: { type: "string" },
    counts: { type: "string" },
    "depth-source": { type: "string", default: "sensed" },
    read: { type: "boolean", default: false },
  },
});
const linesOf = (file) =>
  readFileSync(file, "utf8")
    .split("\n")
    .filter(Boolean)
    .map((line) => JSON.parse(line));
const keyOf = ({ world, kind, seed, depthSource, wanted }) =>
  `${world}/${kind}/${seed}/${depthSource}/${wanted ?? "usual"}`;

const server = await createServer({
  root,
  configFile: false,
  appType: "custom",
  logLevel: "error",
  server: { middlewareMode: true, watch: null, hmr: false, ws: false },
  optimizeDeps: { noDiscovery: true },
});
try {
  const judge = await server.ssrLoadModule("/tests/truth/judge/judge.ts");
  if (values.read) {
    process.stdout.write(`${judge.asMarkdown(positionals.flatMap(linesOf))}\n`);
  } else {
    const worlds =
      values.worlds?.split(",") ??
      (values.set === "both" ? ["tune", "judge"] : [values.set]).flatMap((set) => judge.worldsOf(set));
    const unknown = worlds.find((world) => !(world in judge.WORLDS));
    if (unknown)
      throw new Error(`no world is called ${unknown}; there are ${Object.keys(judge.WORLDS).join(", ")}`);
    const kinds = values.kinds?.split(",") ?? judge.MIXTURE;
    const planned = judge.planFields(
      worlds,
      kinds,
      Number(values.from),
      Number(values.fields),
      values["depth-source"],
      values.counts === undefined ? null : Number(values.counts),
    );
    const done = new Map(
      values.out && existsSync(values.out) ? linesOf(values.out).map((field) => [keyOf(field), field]) : [],
    );
    const fields = [];
    for (const one of planned) {
      const known = done.get(keyOf(one));
      const field = known ?? (await judge.judgeField(one));
      if (!known && values.out) appendFileSync(values.out, `${JSON.stringify(field)}\n`);
      fields.push(field);
      if (process.stderr.isTTY) process.stderr.write(`\r${fields.length} of ${planned.length} fields`);
    }
    process.stdout.write(`${judge.asMarkdown(fields)}\n`);
  }
} finally {
  await server.close();
}
