/** A report of another season of the same field, opened beside this one: read here, never sent anywhere. */
import { effect, signal } from "@preact/signals";
import { FINDINGS_SCHEMA, type FindingsDocument } from "../../src/findings/findings-document.ts";
import { MAP_LAYERS_SCHEMA, type MapLayers } from "../../src/report/map-layers.ts";
import { type Ground, groundFromCells } from "../protocol/ground.ts";
import { blocksOf, reportData } from "./report-data.ts";
import * as state from "./state.ts";

export interface Season {
  document: FindingsDocument;
  layers: MapLayers;
  /** Pieces of pass about 12 m long: a report has no records. */
  ground: Ground;
}

export const otherSeason = signal<Season | null>(null);
/** Why the file that was chosen is not shown; null for nothing. */
export const seasonTrouble = signal<string | null>(null);

/** Larger files are no report of one field (our judgement). */
const LARGEST_BYTES = 80_000_000;
/** The two fields have at least this share of the smaller one's surroundings in common (our judgement). */
const LEAST_IN_COMMON = 0.3;

const ACCEPTED =
  'Accepted is the report.html or the everything.zip of this field in another season, saved from this page or written by "evenstand analyse".';

/** How a season is called: its year, else that it is not known. */
export function seasonName({ field }: Pick<FindingsDocument, "field">): string {
  return field.season === null ? `${field.name}, year not known` : `${field.season}`;
}

/** Opens the report of another season; what is wrong with it is said in {@link seasonTrouble}. */
export async function openOtherSeason(file: File): Promise<void> {
  seasonTrouble.value = null;
  const said =
    file.size > LARGEST_BYTES
      ? `"${file.name}" is too large for the report of one field.`
      : takeSeason(file.name, await reportTextOf(file));
  if (said) seasonTrouble.value = `${said} ${ACCEPTED}`;
}

/** The text of a report, alone or among what was saved as one zip; empty where there is none. */
async function reportTextOf(file: File): Promise<string> {
  if (!/\.zip$/i.test(file.name)) return file.text();
  const { strFromU8, unzipSync } = await import("fflate");
  try {
    const isReport = ({ name }: { name: string }) => /(^|\/)report\.html$/.test(name);
    const [report] = Object.values(unzipSync(new Uint8Array(await file.arrayBuffer()), { filter: isReport }));
    return report ? strFromU8(report) : "";
  } catch {
    // Damaged, or no zip at all.
    return "";
  }
}

export function closeOtherSeason(): void {
  otherSeason.value = null;
  seasonTrouble.value = null;
}

// It stands beside one field: where that one is closed, so is this.
effect(() => {
  if (state.layers.value === null) closeOtherSeason();
});

/** @returns why it is refused, null where it is shown. */
function takeSeason(name: string, html: string): string | null {
  const read = readSeason(html);
  if (!read) return `"${name}" is not a report of ours, or not a whole one.`;
  const own = state.layers.value;
  const document = state.findingsDocument.value;
  if (!own || !document) return "No field is open to compare it with.";
  if (inCommon(own.bounds, read.layers.bounds) < LEAST_IN_COMMON)
    return `"${name}" is of ${read.document.field.name}, which lies elsewhere than ${document.field.name}.`;
  if (JSON.stringify(document.inputs.map(sum)) === JSON.stringify(read.document.inputs.map(sum)))
    return `"${name}" was made from the very files that are open.`;
  state.beside.value = null;
  otherSeason.value = read;
  return null;
}

function sum({ role, sha256 }: { role: string; sha256: string | null }): string {
  return `${role} ${sha256}`;
}

/** @returns null where the text is no report, or its parts are not what they should be. */
function readSeason(html: string): Season | null {
  try {
    const data = reportData(blocksOf(html));
    if (data?.document.schema !== FINDINGS_SCHEMA || data.layers.schema !== MAP_LAYERS_SCHEMA) return null;
    const { document, layers } = data;
    if (!layers.bounds.every(Number.isFinite) || layers.cells.pass.length === 0) return null;
    return { document, layers, ground: groundFromCells(layers.cells) };
  } catch {
    return null;
  }
}

/** Common part of two boxes (west, south, east, north) as a share of the smaller one. */
function inCommon(one: MapLayers["bounds"], other: MapLayers["bounds"]): number {
  const width = Math.min(one[2], other[2]) - Math.max(one[0], other[0]);
  const height = Math.min(one[3], other[3]) - Math.max(one[1], other[1]);
  const area = ([west, south, east, north]: MapLayers["bounds"]) => (east - west) * (north - south);
  return width > 0 && height > 0 ? (width * height) / Math.min(area(one), area(other)) : 0;
}
