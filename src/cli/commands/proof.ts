/** `evenstand proof`: did the new loads pay, by the strips that were left at the old ones. */
import { resolve } from "node:path";
import { loadField } from "../../field/load.ts";
import { readLayer } from "../../ingest/read-layer.ts";
import { analyseField } from "../../jobs/analyse.ts";
import { proofFiles } from "../../proof/proof-files.ts";
import { proofOfLoads } from "../../proof/proof-of-loads.ts";
import { proofText } from "../../proof/proof-text.ts";
import { sentZones } from "../../proof/sent-zones.ts";
import { USUAL_ROW_SPACING_M } from "../../scout/bar.ts";
import { FieldFiles } from "../files/field-files.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { prepareOutputFolder, writeOutputFolder } from "../files/output-folder.ts";
import type { Io } from "../terminal/io.ts";
import { cleanedJson } from "../terminal/printed.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface ProofFlags {
  zones: string;
  out?: string;
  json?: boolean;
  allowOutside?: boolean;
}

/** Compares strips and ground beside them, prints what they show, and writes where to count. */
export async function proof(field: string, flags: ProofFlags, io: Io): Promise<void> {
  const folder = flags.out === undefined ? null : resolve(io.workingFolder, flags.out);
  if (folder !== null) prepareOutputFolder(folder);
  const zoneFiles = await new FieldFiles(io.workingFolder, true).open(flags.zones);
  const layer = await readLayer(zoneFiles, { role: "the zones sent", expect: "polygon" });
  const { manifest, files } = await openCommandField(field, flags.allowOutside ?? false, io);
  const loaded = await loadField(manifest, files.open);
  const zones = sentZones(layer, loaded.frame);
  const analysis = await analyseField(loaded, { withoutLoads: true });
  const result = proofOfLoads(analysis, zones);
  if (folder !== null)
    writeOutputFolder(folder, proofFiles(result, loaded.planter.rowSpacingM ?? USUAL_ROW_SPACING_M));
  io.out(flags.json ? cleanedJson(`${JSON.stringify(result, null, 1)}\n`) : proofText(result, textWidth(io)));
}
