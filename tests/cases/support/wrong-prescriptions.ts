/**
 * Prescriptions asked for wrongly at random: units and columns of the log, limits, channels and cylinders by setting or
 * by manifest. What is written must be safe.
 */
import { expect } from "vitest";
import { isEvenstandError } from "../../../src/errors.ts";
import type { Analysis } from "../../../src/findings/analysis.ts";
import { analyseField } from "../../../src/jobs/analyse.ts";
import { prescribe } from "../../../src/jobs/prescribe.ts";
import { parseManifest } from "../../../src/manifest/manifest.ts";
import { prescriptionChoices } from "../../../src/manifest/prescription-choices.ts";
import { type Random, seededRandom } from "../../../src/numerics/random.ts";
import {
  CHANNELS,
  DOWN_FORCE_SYSTEMS,
  type Prescription,
  type PrescriptionSettings,
} from "../../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../../src/quantities/units.ts";
import { MOISTURES } from "../../../src/vocabulary/moisture.ts";
import type { PrescriptionChoices } from "../../../src/vocabulary/prescription-choices.ts";
import { prescriptionFiles } from "../../../src/write/prescription-files.ts";
import { makeField } from "../../truth/prescription/worlds.ts";

const PSI = 6894.757293168;

function pick<T>(random: Random, values: readonly T[]): T {
  return values[Math.floor(random() * values.length)]!;
}

/** Mistakes of unit and column, applied to load and force. */
const COLUMNS = [
  (load: number, force: number) => [load, force],
  (load: number, force: number) => [load, force],
  (load: number, force: number) => [load * LBF, force],
  (load: number, force: number) => [load, force * LBF],
  (load: number, force: number) => [load * LBF, force * LBF],
  (load: number, force: number) => [load / LBF, force],
  (load: number, force: number) => [force, load],
  (load: number, force: number) => [load, force * 24],
  (load: number) => [load, -60 * LBF],
  (load: number, force: number) => [-load, force],
] as const;

function settingsOf(random: Random): Partial<PrescriptionSettings> {
  const low = random() * 400 * LBF;
  const forces = [random() * 300 * LBF, random() * 600 * LBF] as const;
  const slope = ((random() * 6 - 1) * PSI * pick(random, [1, 0.145, 14.5])) / LBF;
  return {
    moisture: pick(random, MOISTURES),
    channel: pick(random, [null, ...CHANNELS]),
    system: pick(random, [null, ...DOWN_FORCE_SYSTEMS]),
    flat: random() < 0.3,
    ...(random() < 0.5 ? { minimumMarginN: low, maximumMarginN: low + (random() - 0.2) * 500 * LBF } : {}),
    ...(random() < 0.3 ? { largestStepN: random() * 500 * LBF } : {}),
    ...(random() < 0.3 ? { rateStepN: random() * 60 * LBF } : {}),
    ...(random() < 0.2 ? { outsideMarginN: (random() - 0.1) * 500 * LBF } : {}),
    ...(random() < 0.7
      ? {
          cylinder: {
            pascalPerNewton: slope,
            pascalAtNoForce: random() * 200 * PSI,
            forceN: [Math.min(...forces), Math.max(...forces)],
          },
        }
      : {}),
  };
}

/** The prescription part of a manifest as it may be mistyped: quantities without a unit, in another, of another kind. */
function manifestChoices(random: Random): PrescriptionChoices | null {
  const units = ["lbf", "lbf", "N", "N", "daN", "psi", "kPa", "bar", ""];
  const quantity = (most: number): string =>
    `${Math.round((random() - 0.05) * most)} ${pick(random, units)}`.trim();
  const some = (share: number, entries: () => Record<string, unknown>) => (random() < share ? entries() : {});
  const pressure = (): string =>
    `${Math.round(random() * 900)} ${pick(random, ["psi", "psi", "kPa", "bar"])}`;
  const prescription = {
    moisture: pick(random, MOISTURES),
    channel: pick(random, CHANNELS),
    ...some(0.7, () => ({ system: pick(random, DOWN_FORCE_SYSTEMS) })),
    ...some(0.3, () => ({ smallestMargin: quantity(200) })),
    ...some(0.3, () => ({ largestMargin: quantity(1200) })),
    ...some(0.3, () => ({ largestStep: quantity(400) })),
    ...some(0.2, () => ({ rateStep: quantity(40) })),
    ...some(0.1, () => ({ outside: quantity(300) })),
    ...some(0.2, () => ({ flat: true })),
    ...some(0.7, () => ({
      cylinder: {
        points: [
          [`${Math.round(random() * 150)} ${pick(random, ["lbf", "N"])}`, pressure()],
          [`${Math.round(200 + random() * 400)} ${pick(random, ["lbf", "N"])}`, pressure()],
        ],
      },
    })),
  };
  return prescriptionChoices(parseManifest({ plantingLog: { file: "log.geojson" }, prescription }));
}

/** Asks wrongly `runs` times and holds every file against the ceilings. @returns how many wrote rates. */
export async function askWrongly(seed: number, runs: number): Promise<{ refused: number; written: number }> {
  const random = seededRandom(seed);
  let [refused, written] = [0, 0];
  let analysis: Analysis | null = null;
  for (let run = 0; run < runs; run++) {
    // A field serves some runs: its analysis takes longest.
    if (run % 40 === 0)
      analysis = await analyseField(
        makeField("trapezoid", 20_000 + seed + run / 40, run % 80 ? 12 : 90).field,
      );
    const { field } = analysis!;
    const { downForceMargin, downForce } = field.log.values;
    const change = pick(random, COLUMNS);
    const values = {
      ...field.log.values,
      downForceMargin: downForceMargin!.map((load, i) => change(load, downForce![i]!)[0]!),
      downForce: downForce!.map((force, i) => change(downForceMargin![i]!, force)[1]!),
    };
    const rowUnitWeightN = pick(random, [null, 165 * LBF, 165]);
    const wrong: Analysis = {
      ...analysis!,
      field: { ...field, planter: { ...field.planter, rowUnitWeightN }, log: { ...field.log, values } },
    };
    let prescription: Prescription;
    try {
      if (random() < 0.5) {
        wrong.field = { ...wrong.field, prescription: manifestChoices(random)! };
        prescription = prescribe(wrong);
      } else prescription = prescribe(wrong, settingsOf(random));
    } catch (error) {
      if (!isEvenstandError(error)) throw error;
      refused++;
      continue;
    }
    if (holdSafe(prescription, wrong)) written++;
  }
  return { refused, written };
}

/** @returns true where rates were written. */
function holdSafe(prescription: Prescription, { field }: Analysis): boolean {
  const { files } = prescriptionFiles(prescription, field.frame);
  const rates = files.find(({ name }) => name.endsWith(".geojson"));
  if (!rates) return false;
  for (const { rates: sent } of prescription.zones) {
    expect(sent.marginN).toBeGreaterThan(0);
    expect(sent.marginN).toBeLessThanOrEqual(360 * LBF);
    if (prescription.channel.quantity === null || prescription.channel.quantity === "margin") continue;
    expect(sent.forceN).toBeGreaterThan(0);
    expect(sent.forceN).toBeLessThanOrEqual(660 * LBF);
    if (prescription.channel.quantity !== "pressure") continue;
    expect(sent.pressurePa).toBeGreaterThan(0);
    expect(sent.pressurePa! / PSI).toBeLessThanOrEqual(3000.01);
  }
  const sum = prescription.decisions.reduce(
    (total, { areaHa, gainShare }) => total + areaHa * (gainShare?.estimate ?? 0),
    0,
  );
  expect(sum).toBeGreaterThanOrEqual(-1e-9);
  const sheet = files.find(({ name }) => name === "cab-sheet.html")!.content as string;
  const keyed = [...sheet.matchAll(/<td class="key">([^<]+)<\/td>/g)].map((match) => match[1]!);
  expect(keyed).toHaveLength(prescription.decisions.length);
  const zones = JSON.parse(rates.content as string).features as { properties: Record<string, unknown> }[];
  const isMain = (properties: Record<string, unknown>, soilZone: string): boolean =>
    properties.PROOF === "no" && String(properties.SOIL_ZONE).split(", ")[0] === soilZone;
  prescription.decisions.forEach(({ soilZone, prescribedN }, k) => {
    for (const { properties } of zones.filter((zone) => isMain(zone.properties, soilZone))) {
      const numbers = Object.values(properties).filter((value) => typeof value === "number");
      expect(numbers).toHaveLength(1);
      expect(Math.abs(Number(keyed[k]!.replaceAll(",", "")) - numbers[0]!)).toBeLessThanOrEqual(0.5 + 1e-9);
    }
    // In a load channel the card's load is the one the file sends.
    if (prescription.channel.quantity !== "margin" && prescription.channel.quantity !== null) return;
    for (const { rates: sent, soilZones, proofStrip } of prescription.zones)
      if (!proofStrip && soilZones[0] === soilZone)
        expect(sent.marginN).toBeCloseTo(prescribedN[prescription.settings.moisture], 6);
  });
  return true;
}
