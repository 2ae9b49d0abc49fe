import { expect, it } from "vitest";
import { assembleField, loadField } from "../../src/field/load.ts";
import { readLayers } from "../../src/field/read-layers.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";

/** Two passes of four row units, with a rate in percent of its target, marks for no value, a repeat and an odd column. */
function invented(): string {
  const lines = ["TIME,LON,LAT,SPEED_MPH,DEPTH_IN,MARGIN_LB,RATE_PCT,TGT_POP,ROW_UNIT,PASS,REMARK"];
  for (let moment = 0; moment < 60; moment++) {
    const pass = moment < 30 ? 1 : 2;
    const along = pass === 1 ? moment : 59 - moment;
    for (let unit = 1; unit <= 4; unit++) {
      const lon = -93.6 + ((pass * 4 + (pass === 1 ? unit : 5 - unit)) * 0.762) / 82_500;
      const lat = 42 + (along * 4.8) / 111_075;
      const time = new Date(Date.UTC(2026, 3, 24, 14) + (moment * 2 + pass * 60) * 1000).toISOString();
      const margin = moment === 7 && unit === 2 ? 9999 : 110 + ((moment * 7 + unit * 13) % 23);
      const depth = (1.9 + ((moment * 5 + unit) % 9) / 40).toFixed(3);
      const rate = 96 + ((moment + unit) % 5);
      const target = moment % 20 < 10 ? 34_000 : 30_000;
      lines.push(
        [
          time.slice(0, 19),
          lon.toFixed(7),
          lat.toFixed(7),
          5.3,
          depth,
          margin,
          rate,
          target,
          unit,
          pass,
          "x",
        ].join(","),
      );
    }
  }
  lines.push(lines[40]!);
  return `${lines.join("\n")}\n`;
}

it("a log whose columns are let go as they are read is the log of columns that are kept", async () => {
  const bytes = new TextEncoder().encode(invented());
  const manifest = parseManifest({
    plantingLog: {
      file: "log.csv",
      columns: {
        population: { column: "RATE_PCT", unit: "%" },
        downForceMargin: { column: "MARGIN_LB", unit: "lbf" },
      },
    },
    planter: { rowUnits: 4, rowSpacing: "30 in" },
  });
  const provide = async () => [{ name: "log.csv", bytes: bytes.slice() }];
  const letGo = await loadField(manifest, provide);
  const layers = await readLayers(manifest, provide);
  const kept = assembleField(manifest, layers);
  expect(Object.keys(letGo.log.values)).toEqual(
    expect.arrayContaining([
      "time",
      "speed",
      "seedingDepth",
      "downForceMargin",
      "population",
      "targetPopulation",
      "rowUnit",
    ]),
  );
  expect(letGo.log.values.population![0]! / letGo.log.values.targetPopulation![0]!).toBeCloseTo(0.97, 12);
  expect(letGo.log.recordCount).toBe(240);
  expect(letGo.log).toEqual(kept.log);
  expect(letGo.inputs).toEqual(kept.inputs);
  // The page asks the same layers again.
  expect(assembleField(manifest, layers).log).toEqual(kept.log);
  expect(layers.plantingLog.x).toHaveLength(241);
});
