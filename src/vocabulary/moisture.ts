/** State of the ground, found on the day by squeezing and digging; putty means wait. */
export const MOISTURES = ["dry", "fit", "damp"] as const;
export type Moisture = (typeof MOISTURES)[number];
