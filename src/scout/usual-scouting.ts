/** How many spots to count, and at how many of them to dig, where nobody says. */
export const USUAL_SCOUTING = { spots: 60, digs: 12 } as const;
