/** Kinds of task files: version of the format, and how the zones stand in it. */

export const TASK_VERSIONS = ["3.3", "4.3"] as const;
/** Polygons, a byte a cell that names a treatment zone (grid type 1), or a set-point a cell (grid type 2). */
export const TASK_ZONES = ["polygons", "grid-1", "grid-2"] as const;

export interface TaskFileKind {
  version: (typeof TASK_VERSIONS)[number];
  zones: (typeof TASK_ZONES)[number];
}

/** Every kind of task file. */
export const ALL_TASK_FILES: readonly TaskFileKind[] = TASK_VERSIONS.flatMap((version) =>
  TASK_ZONES.map((zones): TaskFileKind => ({ version, zones })),
);

/** Polygons and the grid that names zones, in the newer version; older terminals want 3.3. */
export const USUAL_TASK_FILES: readonly TaskFileKind[] = [
  { version: "4.3", zones: "polygons" },
  { version: "4.3", zones: "grid-1" },
];

/** "4.3-polygons" and the like. */
export function taskFileKindName({ version, zones }: TaskFileKind): string {
  return `${version}-${zones}`;
}
