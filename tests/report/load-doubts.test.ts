/** A log whose load or added force cannot be one is told so by `analyse`: first in the answer, and with its figures. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { loadField } from "../../src/field/load.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import { ledgerText } from "../../src/words/ledger-text.ts";
import { type LoadFieldOptions, writeLoadField } from "../cases/support/load-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let next = 0;

async function answer(options: LoadFieldOptions) {
  const folder = writeLoadField(join(base, `field-${++next}`), { counts: 0, ...options });
  const read = (name: string) => new Uint8Array(readFileSync(join(folder, name)));
  const manifest = parseManifest(JSON.parse(new TextDecoder().decode(read("field.json"))));
  const field = await loadField(manifest, (path) => Promise.resolve([{ name: path, bytes: read(path) }]));
  const { document } = await analyseField(field);
  const { sentence, notJudged } = document.summary;
  return {
    sentence,
    doubts: notJudged
      .filter(({ what }) => what.startsWith("the logged"))
      .map(({ what, why }) => `${what}: ${why}`),
    notes: document.inputs.find(({ role }) => role === "plantingLog")!.notes.map(({ reason }) => reason),
    printed: ledgerText(document, { width: 100, emphasise: (text) => text }),
  };
}

const LEAD = /^First look at the columns of the log/;

describe("load and added force in the answer", () => {
  it("are not doubted in a sound log", async () => {
    const { sentence, doubts } = await answer({});
    expect(sentence).not.toMatch(LEAD);
    expect(doubts).toEqual([]);
  });

  it.each<[string, LoadFieldOptions, RegExp]>([
    [
      "swapped columns",
      { logged: ({ loadLbf, forceLbf }) => ({ loadLbf: forceLbf, forceLbf: loadLbf }) },
      /^the logged load and added force: .*swapped/,
    ],
    [
      "a load in newtons under a pound's name",
      { logged: (record) => ({ ...record, loadLbf: record.loadLbf * LBF }) },
      /^the logged gauge-wheel load: .*newtons under a pound's name/,
    ],
    [
      "the force of the bar that is applied, logged as the load",
      { logged: (record, { k }) => ({ ...record, loadLbf: 290 + (k % 5) }) },
      /^the logged gauge-wheel load: .*may be the force applied/,
    ],
  ])(
    "%s: said first, with the figures in the list and among the notes of the file",
    async (_, options, words) => {
      const { sentence, doubts, notes, printed } = await answer(options);
      expect(sentence).toMatch(LEAD);
      expect(doubts[0]).toMatch(words);
      expect(notes.some((reason) => doubts[0]!.includes(reason.split(";")[0]!))).toBe(true);
      expect(printed.replace(/\s+/g, " ")).toContain("First look at the columns of the log");
    },
  );

  it("an added force in newtons is in the list, and takes nothing from the answer", async () => {
    const { sentence, doubts } = await answer({
      logged: (record) => ({ ...record, forceLbf: record.forceLbf * LBF }),
    });
    expect(sentence).not.toMatch(LEAD);
    expect(doubts).toHaveLength(1);
    expect(doubts[0]).toMatch(/^the logged added force: .*newtons under a pound's name/);
  });
});
