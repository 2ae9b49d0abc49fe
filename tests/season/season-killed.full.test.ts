/** A season's run killed at any moment, again and again, ends with the bytes of one that was let be, and no field is done twice. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { randomFrom } from "../ingest/support/fuzz.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { bytesOf, season, startSeason } from "./support/command.ts";
import { writeSeason } from "./support/season-on-disk.ts";

const scratch = temporaryFolder();
const KILLS = 20;
const FIELDS = 8;

it(`killed ${KILLS} times, ends with the same bytes`, async () => {
  const fields = join(scratch, "fields");
  writeSeason(
    fields,
    Array.from({ length: FIELDS }, (_, k) => ({ folder: `field ${k + 1}`, seed: k + 1 })),
  );
  const letBe = join(scratch, "let-be");
  const begun = performance.now();
  expect((await season("run", fields, "--out", letBe, "--workers", "2")).code).toBe(0);
  const lastsMs = performance.now() - begun;
  const killed = join(scratch, "killed");
  const random = randomFrom(19);
  const worked = new Map<string, number>();
  let ends = 0;
  const countWorked = (err: string): void => {
    for (const [, name] of err.matchAll(/^\[\d+\/\d+\] (.+): done/gm))
      worked.set(name!, (worked.get(name!) ?? 0) + 1);
  };
  for (let kill = 0; kill < KILLS; kill++) {
    const { child, ended } = startSeason("run", fields, "--out", killed, "--workers", "2");
    // Early and late alike; as the fields get done, most kills meet the joining of the results.
    setTimeout(() => child.kill("SIGKILL"), (0.1 + 0.8 * (random(1000) / 1000)) * lastsMs);
    const { code, err } = await ended;
    countWorked(err);
    if (code === 0) ends++;
  }
  const last = await season("run", fields, "--out", killed, "--workers", "2");
  countWorked(last.err);
  expect(last.code).toBe(0);
  process.stdout.write(
    `killed ${KILLS - ends} of ${KILLS} times; fields put in place ${[...worked.values()].reduce((sum, one) => sum + one, 0)} times for ${FIELDS} fields\n`,
  );
  expect(bytesOf(killed)).toEqual(bytesOf(letBe));
  // A field that was in its place is never done again.
  for (const times of worked.values()) expect(times).toBe(1);
  expect(readdirSync(join(killed, "fields")).filter((name) => name.startsWith("."))).toEqual([]);
}, 600_000);
