/** Writes the invented demonstration field: node dist/sample-data/make.js --seed 1 --out sample-data/larkspur-draw */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { makeLarkspurDraw } from "./larkspur-draw.ts";

const { values } = parseArgs({
  options: {
    seed: { type: "string", default: "1" },
    out: { type: "string", default: "sample-data/larkspur-draw" },
  },
});
const seed = Number(values.seed);
if (!Number.isSafeInteger(seed) || seed < 0) {
  process.stderr.write(`--seed ${values.seed} is not a whole number from 0 up\n`);
  process.exit(2);
}
mkdirSync(values.out, { recursive: true });
for (const [name, bytes] of Object.entries(makeLarkspurDraw(seed))) {
  writeFileSync(join(values.out, name), bytes);
  process.stdout.write(`${join(values.out, name)}  ${bytes.length} bytes\n`);
}
