/** Another season of the field beside the open one. */
export const seasons = {
  intro:
    "Open the report of another season of this field. Both maps then move together and are coloured alike. The file stays on this computer.",
  choose: "Choose a report",
  file: "report.html or everything.zip of another season",
  close: (name: string) => `Close ${name}`,
  whole: "The whole field",
  soil: (name: string) => `Soil: ${name}`,
  caution:
    "Means over the planted ground by area, as each season's own log has them. Weather, seed and days differ between seasons: a better stand here does not prove that a change of the planter paid. Strips planted side by side in one season do.",
  meanOf: "Mean of",
  less: (one: string, other: string) => `${one} less ${other}`,
  middle: "Middle of the stand counts",
  counts: (stand: string, counts: number) => `${stand} (${counts} counts)`,
  noneCounted: "none counted",
  confirmed: "Places that counts confirm",
  sameColours: (title: string) => `${title}, in the same colours as on the first map; means of 12 m.`,
  noFigures: (title: string) => `This season has no figures of ${title}.`,
  both: "Both in figures",
};
