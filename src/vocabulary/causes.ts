/** The words for what can be wrong, and the shape of a finding before it is put into the report. */
export const CAUSES = [
  "too-shallow",
  "too-deep",
  "uneven-depth",
  "lost-ground-contact",
  "excess-down-force",
  "rate-off-target",
  "misses",
  "multiples",
  "irregular-spacing",
  "excess-speed",
  "sensor-fault",
  "wheel-traffic",
  "planted-twice",
  "not-planted",
  "furrow-not-closed",
  "residue-in-furrow",
  "dry-seedbed",
  "worn-row-unit",
  "seed-lot",
  "not-in-the-log",
  "soil-or-weather",
  "undetermined",
] as const;

export type Cause = (typeof CAUSES)[number];

export type FindingKind = "area" | "pass" | "row-unit" | "section" | "soil-zone" | "field";

export type Basis = "counted" | "predicted" | "cleared";

/** What a dig may show. */
export type Sign =
  | "smeared wall"
  | "leafed out underground"
  | "rotted"
  | "swollen"
  | "hollow"
  | "dug shallow"
  | "dug deep"
  | "open furrow"
  | "residue in furrow";
