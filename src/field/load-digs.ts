/** Digs: seed depth dug, and what the furrow and the seed looked like. */

import { projectColumns } from "../ingest/crs/crs.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { recordNumber } from "../ingest/record-number.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";
import { LayerReading, pick, recordsWithPosition } from "../recognise/layer-reading.ts";
import { DIG_CATALOGUE } from "../vocabulary/catalogue-spots.ts";
import type { Digs, InputReport, LocalFrame, Targets } from "../vocabulary/field.ts";
import type { Moisture } from "../vocabulary/moisture.ts";

/**
 * The crown of a corn plant forms about 3/4 in below the surface whatever the depth, so the seed lay that much
 * deeper than its mesocotyl is long (trade press; corn only).
 */
export const CROWN_DEPTH_MM = 19;

/** Words a category accepts beside its own name, lower case. */
type Words<Category extends string> = Readonly<Record<Category, readonly string[]>>;

const SMEAR: Words<"none" | "some" | "heavy"> = {
  none: ["no", "0", "clean", "absent"],
  some: ["slight", "light", "moderate", "1"],
  heavy: ["severe", "strong", "yes", "2"],
};
const FURROW: Words<"closed" | "open" | "residue"> = {
  closed: ["shut", "close", "yes"],
  open: ["gap", "not closed", "partly open"],
  residue: ["residue in furrow", "residue in the furrow", "trash", "straw", "stalks"],
};
const MOISTURE: Words<Moisture> = {
  dry: ["too dry", "powder"],
  fit: ["good", "moist", "ok"],
  damp: ["wet", "too wet", "sticky"],
};
const SEED_STATE: Words<"fine" | "swollen" | "rotted" | "leafed out underground" | "hollow" | "none"> = {
  fine: ["good", "ok", "germinated", "sprouted"],
  swollen: ["imbibed"],
  rotted: ["rotten", "rot", "decayed"],
  "leafed out underground": ["leafed out", "leafed underground", "corkscrewed"],
  hollow: ["eaten", "empty"],
  none: ["no seed", "missing", "not found"],
};

/**
 * Loads the digs.
 * @throws {ChoiceNeededError} where a column or a unit is the user's to choose.
 */
export function loadDigs(
  layer: RawLayer,
  manifest: Manifest,
  frame: LocalFrame,
  targets: Targets,
): { digs: Digs; report: InputReport } {
  const { x, y } = projectColumns(layer.x, layer.y, layer.crs, frame);
  const depth = targets.seedingDepthMm;
  const expected =
    depth === null ? {} : { seedDepth: { value: depth, source: "targets.seedingDepth of the manifest" } };
  const reading = new LayerReading(layer, "digs", DIG_CATALOGUE, manifest.digs?.columns, {
    hints: { expected },
  });
  const kept = recordsWithPosition(reading, x, y);
  const rowUnit = reading.numbers("rowUnit", kept);
  const digs: Digs = {
    digCount: kept.length,
    x: pick(x, kept),
    y: pick(y, kept),
    rowUnit: Int16Array.from(kept, (_, index) => Math.max(rowUnit?.[index] ?? 0, 0)),
    depthMm: depthMm(reading, kept, manifest.crop ?? "corn"),
    smear: categories(reading, "smear", SMEAR, kept),
    furrow: categories(reading, "furrow", FURROW, kept),
    moisture: categories(reading, "moisture", MOISTURE, kept),
    seedState: categories(reading, "seedState", SEED_STATE, kept),
  };
  return { digs, report: reading.report(kept.length) };
}

function depthMm(reading: LayerReading, kept: Int32Array, crop: string): Float64Array {
  const dug = reading.numbers("seedDepth", kept);
  const mesocotyl = reading.numbers("mesocotylLength", kept);
  let converted = 0;
  let notCorn = 0;
  const depth = Float64Array.from(kept, (_, index) => {
    const direct = dug?.[index] ?? Number.NaN;
    const length = mesocotyl?.[index] ?? Number.NaN;
    if (!Number.isNaN(direct) || Number.isNaN(length)) return direct;
    if (crop !== "corn") {
      notCorn += 1;
      return Number.NaN;
    }
    converted += 1;
    return length + CROWN_DEPTH_MM;
  });
  const field = reading.found("mesocotylLength")?.group.label;
  if (converted > 0) {
    reading.notes.add({
      reason: `seed depth is taken as mesocotyl length plus ${CROWN_DEPTH_MM} mm (trade press)`,
      effect: "converted",
      field,
      count: converted,
    });
  }
  if (notCorn > 0) {
    reading.notes.add({
      reason: "mesocotyl length gives a depth for corn only; left out",
      effect: "left out",
      field,
      count: notCorn,
    });
  }
  return depth;
}

function categories<Category extends string>(
  reading: LayerReading,
  variable: string,
  words: Words<Category>,
  kept: Int32Array,
): (Category | null)[] {
  const texts = reading.texts(variable, kept);
  if (texts === null) return Array.from(kept, () => null);
  const known = new Map<string, Category>();
  for (const [category, others] of Object.entries(words) as [Category, readonly string[]][]) {
    for (const word of [category, ...others]) known.set(word, category);
  }
  return texts.map((text, index) => {
    if (text === null || text.trim() === "") return null;
    const category = known.get(
      text
        .trim()
        .toLowerCase()
        .replaceAll(/[\s_-]+/g, " "),
    );
    if (category !== undefined) return category;
    reading.notes.add({
      reason: `is not a known ${variable}; ${Object.keys(words).join(", ")} would be accepted; taken as not looked at`,
      effect: "left out",
      field: reading.found(variable)!.group.label,
      record: recordNumber(reading.layer, kept[index]!),
      value: text,
    });
    return null;
  });
}
