/** The farmer's sheet and the frame of the report. */
export const short = {
  title: "In short",
  lost: (money: string, range: string) => `Lost in all: about ${money}; it may be ${range}.`,
  before: "Before next spring, worst first",
  more: (count: number, shown: string) =>
    `And ${shown} more ${count === 1 ? "place" : "places"}: see the ledger on the next pages.`,
  places: (count: number, shown: string) => `${shown} ${count === 1 ? "place" : "places"} below the map`,
  each: ", each with what to do, worst first.",
  caution:
    "Before you touch a machine, treated seed or a stand: the operator's manual, the product's label, the insurer's adjuster and local rules come first. Money is an estimate with its range, not a bill.",
  noFinding: (area: string, of: string) => `No finding on ${area} of ${of}.`,
  unknown: "What is not known yet",
  logAlone: (count: number, shown: string) =>
    `${shown} ${count === 1 ? "place rests" : "places rest"} on the log alone: counting plants there would settle ${count === 1 ? "it" : "them"}. `,
  notJudged: (what: string) => `Could not be judged: ${what}.`,
  about: (money: string) => `, about ${money}`,
  check: (what: string) => `Check first: ${what}`,
  mapAndReadout: "Map and readout",
  howWorked: "How this was worked out",
  notices: "Notices of the software in this file",
};
