/** Which fields make up a season, the same on every machine that works on it. */
export const PLAN_SCHEMA = "evenstand/season-plan/1";

export interface PlannedField {
  /** Name of its folder among the results; letters, digits, dot, dash and underline. */
  id: string;
  /** Place as seen from the season's folder, with forward slashes. */
  path: string;
  /** What the season's manifest says of it; null where nothing. */
  name: string | null;
  planter: string | null;
  grower: string | null;
  operator: string | null;
}

export interface SeasonPlan {
  schema: typeof PLAN_SCHEMA;
  name: string;
  /** Year of the harvest; null where nobody says. */
  season: number | null;
  /** Sorted by id. */
  fields: PlannedField[];
}

/** Fields of one part of a season: every n-th, so that parts are alike in size. Parts share none and leave none. */
export function shardOf(fields: readonly PlannedField[], shard: number, shards: number): PlannedField[] {
  return fields.filter((_, index) => index % shards === shard - 1);
}

/**
 * Names of result folders for places: the place itself where it can be one, else with a mark made from it, so that no two
 * places share a folder, upper and lower case counting as one.
 */
export function fieldIds(paths: readonly string[]): string[] {
  const plain = paths.map((path) =>
    path
      .replace(/\/?field\.json$/i, "")
      .replace(/\.json$/i, "")
      .replaceAll("/", "--")
      .replace(/[^A-Za-z0-9._-]+/g, "-")
      .replace(/^[.-]+/, "")
      .slice(0, 80),
  );
  const isChanged = (index: number): boolean =>
    plain[index] === "" ||
    plain[index] !== paths[index]!.replace(/\/?field\.json$/i, "").replaceAll("/", "--");
  const holders = new Map<string, number>();
  for (const name of plain) holders.set(name.toLowerCase(), (holders.get(name.toLowerCase()) ?? 0) + 1);
  return plain.map((name, index) => {
    const isAlone = holders.get(name.toLowerCase()) === 1;
    return isChanged(index) || !isAlone ? `${name || "field"}-${mark(paths[index]!)}` : name;
  });
}

/** Eight hexadecimal digits of a text (FNV-1a over its code units, two rounds with different starts). */
function mark(text: string): string {
  const round = (start: number): number => {
    let hash = start;
    for (let k = 0; k < text.length; k++) hash = Math.imul(hash ^ text.charCodeAt(k), 0x01000193);
    return hash >>> 0;
  };
  return ((round(0x811c9dc5) ^ round(0x9747b28c)) >>> 0).toString(16).padStart(8, "0");
}
