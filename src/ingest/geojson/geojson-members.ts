/** Members of GeoJSON objects that the job does not use, looked at for what RFC 7946 says of them. */

export const GEOMETRY_TYPES: readonly string[] = [
  "Point",
  "MultiPoint",
  "LineString",
  "MultiLineString",
  "Polygon",
  "MultiPolygon",
  "GeometryCollection",
];

/** Members that belong to another kind of object (RFC 7946, 7.1). */
const FOREIGN = {
  collection: ["coordinates", "geometries", "geometry", "properties"],
  feature: ["coordinates", "geometries", "features"],
  geometry: ["geometry", "properties", "features"],
} as const;

export type MemberOwner = keyof typeof FOREIGN;

/** True where {@link memberTrouble} has something to look at. */
export function isCheckedMember(owner: MemberOwner, name: string): boolean {
  return name === "bbox" || name === "id" || (FOREIGN[owner] as readonly string[]).includes(name);
}

/** What is wrong with a member, null where nothing is. */
export function memberTrouble(owner: MemberOwner, name: string, value: unknown): string | null {
  if ((FOREIGN[owner] as readonly string[]).includes(name))
    return `a member "${name}" belongs to another kind of object than a ${owner}; it is not used`;
  if (owner === "feature" && name === "id" && typeof value !== "string" && typeof value !== "number")
    return 'its "id" is neither a text nor a number; it is not used';
  if (name === "bbox" && !isBox(value))
    return 'its "bbox" is not a list of four or six numbers; it is not used';
  return null;
}

function isBox(value: unknown): boolean {
  return (
    Array.isArray(value) &&
    (value.length === 4 || value.length === 6) &&
    value.every((part) => typeof part === "number")
  );
}

/** Tells what is wrong with the members of a parsed object. */
export function checkMembers(
  owner: MemberOwner,
  members: Record<string, unknown>,
  tell: (trouble: string) => void,
): void {
  for (const name of Object.keys(members)) {
    const trouble = isCheckedMember(owner, name) ? memberTrouble(owner, name, members[name]) : null;
    if (trouble) tell(trouble);
  }
}
