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
  const expected = bytesOf(letBe);
  const random = randomFrom(19);
  let killed = 0;
  let seasons = 0;
  let runs = 0;
  // A season that is done although it was to be killed is compared, and the next one begun.
  while (killed < KILLS || seasons === 0) {
    const out = join(scratch, `killed-${++seasons}`);
    const worked = new Map<string, number>();
    for (let isDone = false; !isDone; ) {
      expect(++runs).toBeLessThan(5 * KILLS);
      const { child, ended } = startSeason("run", fields, "--out", out, "--workers", "2");
      const timer = setTimeout(
        () => killed < KILLS && child.kill("SIGKILL"),
        (0.05 + 0.55 * (random(1000) / 1000)) * lastsMs,
      );
      const { code, err } = await ended;
      clearTimeout(timer);
      for (const [, name] of err.matchAll(/^\[\d+\/\d+\] (.+): done/gm))
        worked.set(name!, (worked.get(name!) ?? 0) + 1);
      isDone = code === 0;
      if (!isDone) killed++;
    }
    expect(bytesOf(out)).toEqual(expected);
    // A field that was in its place is never done again.
    for (const times of worked.values()) expect(times).toBe(1);
    expect(readdirSync(join(out, "fields")).filter((name) => name.startsWith("."))).toEqual([]);
  }
  process.stdout.write(`${killed} kills over ${seasons} seasons, ${runs} runs: the same bytes each time\n`);
}, 600_000);
