/** The crops that have figures of their own; any other is told apart from none. */
export const CROPS = ["corn", "soybean", "other"] as const;
export type Crop = (typeof CROPS)[number];
