/** Columns of the invented log that are compared. */
export const VARIABLES = ["SPEED_MPH", "DEPTH_IN", "MARGIN_LB", "DOWNF_LB", "POP_AC", "SINGUL", "MISS_PCT"];
